import { expect, it } from "vitest";
import { sentence } from "../../src/problem.ts";
import { readWorked, run, toolBoard } from "../worked/tool-board.ts";

/** What is said of finishes that can be read and yet go wrong, word for word. */

const D = "2026-01-01,trial";
const FINISH = "id,step,paint,faces,edges,coats,valid_from,source";
const PAINT =
  "id,description,kind,content_ml,spread_m2,thinner_percent,thinner,loss_percent,clear,flash_minutes,recoat_within_minutes,recoat_after_minutes,handle_minutes,price,valid_from,source";
const DAYS = ["hours_per_day,5", "wanted_days,2", "usual_days,9", "rush_percent_per_day,1"];

interface Slip {
  readonly finishes: readonly string[];
  readonly paints: readonly string[];
  readonly settings?: readonly string[];
  /** For a m2 of coat. */
  readonly minutes?: number;
}

function rows(head: string, some: readonly string[]): string {
  return [head, ...some.map((row) => `${row},${D}`)].join("\n");
}

function said({ finishes, paints, settings = [], minutes = 30 }: Slip): readonly string[] {
  const input = toolBoard({
    "job/parts.csv":
      "part,qty,material,thickness,drawing,finish\nplate,9,acrylic cast,3,drawings/name-plate.svg,sky",
    "job/hardware.csv": "item,qty,per\nhook-rail,1,piece",
    "job/lengths.csv": "name,stock,length,qty",
    "job/hand-work.csv": `task,minutes\nspray,${minutes}\ndrawing,600`,
    "tables/finishes.csv": rows(FINISH, finishes),
    "tables/paints.csv": rows(PAINT, paints),
    "tables/settings.csv": rows(readWorked("tables/settings.csv").trim(), settings),
  });
  return run(input).problems.map(sentence).toSorted();
}

const COLOUR = "sky,colour,blue,both,yes,2";
const BLUE = "blue,Blue,paint,400,2,,,50,yes,10,60,2880,90,9.40";

it.each<[string, Slip, readonly string[]]>([
  [
    "a thinner as paint",
    {
      finishes: ["sky,colour,spirit,both,yes,2"],
      paints: ["spirit,Spirit,thinner,500,,,,,,,,,,3.00"],
    },
    [
      'tables/finishes.csv, line 2, paint: read "spirit", expected what goes on the part; this row of paints.csv is a thinner, and has no area. Name the paint, and the thinner in the row of that; or write cleaner as its kind.',
    ],
  ],
  [
    "a paint as thinner",
    {
      finishes: [COLOUR],
      paints: [BLUE.replace(",2,,,", ",2,10,red,"), BLUE.replace("blue,Blue", "red,Red")],
    },
    [
      'tables/paints.csv, line 2, thinner: read "red", expected an id whose kind is thinner; that of red is paint. Name the thinner, or write thinner as the kind of that row.',
    ],
  ],
  [
    "paint over an engraving",
    { finishes: [COLOUR], paints: [BLUE.replace(",50,yes", ",50,no")] },
    [
      'parts.csv, line 2, finish: read "sky, whose step colour covers the engraving of plate", expected a clear finish, or a step that masks, for a part that is engraved. Mask it, engrave it after painting, or leave it bare; leave it so if it may be filled.',
    ],
  ],
  [
    "a paint that does not say how it dries",
    {
      finishes: [COLOUR],
      paints: [BLUE.replace("10,60,2880,90", ",,,")],
      settings: DAYS.slice(0, 1),
    },
    [
      "tables/paints.csv, line 2, flash_minutes: read nothing, expected how blue dries, for the calendar of sky. Fill in flash_minutes and handle_minutes from the can: the lead time has no drying of it.",
    ],
  ],
  [
    // Fronts of 18 plates, 0.138623 m2, take 208 min of 300, the backs the second day: 2880 - 208. Touched
    // at 6025.6 min, 4.9 days; drawing 2 days, machine about an hour: 7.1.
    "a batch too large, and wanted too soon",
    { finishes: [COLOUR], paints: [BLUE], settings: DAYS, minutes: 1500 },
    [
      'tables/finishes.csv, line 2, paint: read "colour 2672 min after colour", expected within 60 min or after 2880 min, or the coat below wrinkles; the calendar waits. Paint fewer parts at a time, or plan the days that the maker\'s sheet has for it.',
      'tables/settings.csv, line 11, value: read "2", expected 8 days or more, which the work and the drying take (explain lead.days). Agree on more days, have the machine\'s work sooner by machine_days, or work more hours a day on it.',
    ],
  ],
])("%s", (_, slip, sentences) => {
  expect(said(slip)).toEqual(sentences);
});
