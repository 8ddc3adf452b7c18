import { describe, expect, it } from "vitest";
import { makersSheet } from "../../src/exports/makers-sheet.ts";
import type { Estimate } from "../../src/estimate-data.ts";
import type { Checked } from "../../src/problem.ts";
import { estimated, readWorked, run, toolBoard } from "../worked/tool-board.ts";

/**
 * From the order to the hand-over, worked by hand: six plates of 200 x 100 x 3, two coats all round,
 * 30 min of spraying for a m2, five hours of work a day.
 *
 * A coat of the fronts with edges is 6 x (0.02 + 0.0018) = 0.1308 m2, 3.924 min; of the backs 0.12 m2,
 * 3.6 min. Fronts at 0 and 13.924, ready at 17.848; turned 90 min later, at 107.848; backs then and at
 * 121.448, ready at 125.048; touched at 215.048, hard a day after 125.048.
 */

const D = "2026-01-01,worked by hand";

interface Changes {
  readonly settings?: readonly string[];
  readonly times?: string;
  readonly work?: string;
  readonly job?: string;
  readonly days?: string;
}

function result({
  settings = ["hours_per_day,5", "materials_days,2", "delivery_days,1"],
  times = "10,60,2880,90,24",
  work = "task\ndrawing\nspray\nassemble\npack",
  job = "pieces: 3",
  days = "3,20",
}: Changes): Checked<Estimate> {
  const sheets = readWorked("tables/sheets.csv").split("\n")[0] ?? "";
  const machines = readWorked("tables/machines.csv")
    .replace(",valid_from", ",usual_days,rush_percent_per_day,valid_from")
    .replace(",2026-01-01", `,${days},2026-01-01`);
  return run(
    toolBoard({
      "job/parts.csv":
        "part,qty,material,thickness,shape,width,height,finish\nplate,2,acrylic cast,3,rectangle,200,100,sky",
      "job/job.yaml": job,
      "job/hardware.csv": "item,qty,per\nhook-rail,1,piece",
      "job/lengths.csv": "name,stock,length,qty",
      "job/hand-work.csv": work,
      "tables/machines.csv": machines,
      "tables/sheets.csv": `${sheets}\nacrylic,acrylic cast,3,sheet,600,400,15,5,3,,${D}`,
      "tables/settings.csv": [
        readWorked("tables/settings.csv").trim(),
        ...settings.map((row) => `${row},${D}`),
      ].join("\n"),
      "tables/finishes.csv": `id,step,paint,faces,edges,coats,valid_from,source\nsky,colour,sky,both,yes,2,${D}`,
      "tables/paints.csv": `id,description,content_ml,spread_m2,loss_percent,flash_minutes,recoat_within_minutes,recoat_after_minutes,handle_minutes,cure_hours,price,valid_from,source\nsky,Sky blue,400,2.4,50,${times},9.40,${D}`,
    }),
  );
}

function sound(changes: Changes = {}): Estimate {
  const { value, problems } = result(changes);
  if (value === null) throw new Error(JSON.stringify(problems));
  return value;
}

function values({ figures }: Estimate): (id: string) => number {
  const byId = new Map(figures.map(({ id, value }) => [id, Number(value)]));
  return (id) => byId.get(id) ?? NaN;
}

describe("the lead time", () => {
  it("is the sum on paper, rounded up", () => {
    const estimate = sound();
    const of = values(estimate);
    expect(of("lead.materials-days")).toBe(2);
    expect(of("lead.machine")).toBe(3);
    // 60 min of drawing; 78 of assembly and packing; 0.5016 m2 of coats at 30 min.
    expect(of("lead.before-work")).toBeCloseTo(0.2, 12);
    expect(of("lead.after-work")).toBeCloseTo(0.26, 12);
    expect(of("lead.painting-work")).toBeCloseTo(0.05016, 12);
    expect(of("lead.sky.touch")).toBeCloseTo(215.048 / 300, 9);
    expect(of("lead.sky.hard")).toBeCloseTo(1 + 125.048 / 300, 9);
    expect(of("lead.painting")).toBeCloseTo(0.716_826_666_7, 9);
    expect(of("lead.after")).toBeCloseTo(0.7, 9);
    expect(of("lead.exact")).toBeCloseTo(7.616_826_666_7, 9);
    expect(estimate.leadTime).toEqual({ workingDays: 8, figure: "lead.days" });
    expect(of("lead.days")).toBe(8);
  });

  it("takes what comes beside the coats, such as scuffing, as done before them", () => {
    const of = values(sound({ work: "task\ndrawing\nscuff\nspray\nassemble\npack" }));
    // 20 min a m2 of 6 x 0.0418 = 0.2508 m2, 5.016 min, beside what was worked out above.
    expect(of("lead.preparing-work")).toBeCloseTo(5.016 / 300, 9);
    expect(of("lead.painting")).toBeCloseTo((5.016 + 215.048) / 300, 9);
    expect(of("lead.painting-work")).toBeCloseTo((5.016 + 15.048) / 300, 9);
  });

  it("is on the quote, and no hour of it", () => {
    const total = sound().quote.find(({ kind }) => kind === "total");
    expect(total?.basis).toBe("in EUR; ready in about 8 working days after the order");
  });

  it("is shorter with a quicker service, and by the machine's own hours where none is named", () => {
    expect(sound({ job: "pieces: 3\nmachine_days: 1" }).leadTime?.workingDays).toBe(6);
    const own = values(sound({ days: "," }));
    expect(own("lead.machine")).toBeCloseTo(own("machine.minutes") / 60 / 5, 12);
  });

  it("is not worked out where nobody says how long a day is, and changes no price", () => {
    const [without, with_] = [sound({ settings: [] }), sound()];
    expect(without.leadTime).toBeNull();
    expect(without.figures.filter(({ id }) => id.startsWith("lead."))).toEqual([]);
    expect(without.making.finishes[0]?.calendar).toBeNull();
    expect(values(without)("quote.total")).toBe(values(with_)("quote.total"));
    expect(estimated(toolBoard()).leadTime).toBeNull();
  });

  it("has no drying of a paint that does not say how it dries, and says so", () => {
    const { value, problems } = result({ times: ",,,," });
    // 2 + 3 + 0.2 + 0.05016 + 0.26 + 1 = 6.51016
    expect(value?.leadTime?.workingDays).toBe(7);
    expect(problems).toMatchObject([
      { code: "drying-not-known", file: "tables/paints.csv", line: 2, column: "flash_minutes" },
    ]);
  });

  it("tells of a batch so large that the next coat comes too late for the last", () => {
    // 1500 min for a m2: 196.2 min for the fronts, of which two do not go into a day of 300. So the backs
    // come on day two, and the next coat of the fronts could on day three, at 2880.
    const { value, problems } = result({
      work: "task,minutes\ndrawing,\nspray,1500\nassemble,\npack,",
    });
    expect(value?.leadTime).not.toBeNull();
    expect(problems).toMatchObject([
      { code: "recoat-missed", file: "tables/finishes.csv", line: 2 },
    ]);
    expect(problems[0]?.found).toBe("colour 2684 min after colour");
  });

  it.each([
    ["flash", "20,60,2880,90,24"],
    ["handling", "10,60,2880,120,24"],
    ["hardening", "10,60,2880,90,48"],
  ])("moves with the time for %s, and what moves names the paint's row", (_, times) => {
    const [before, after] = [sound(), sound({ times })];
    const was = new Map(before.figures.map(({ id, value }) => [id, value]));
    const moved = after.figures.filter(({ id, value }) => was.get(id) !== value);
    expect(moved.length).toBeGreaterThan(2);
    expect(moved.every(({ id }) => id.startsWith("lead."))).toBe(true);
    const given = moved.flatMap(({ origin }) =>
      origin.kind === "given" && origin.source.kind === "computed" ? [origin.source.from] : [],
    );
    expect(given.length).toBeGreaterThan(0);
    for (const from of given)
      expect(from).toContainEqual({ file: "tables/paints.csv", line: 2, column: null });
  });

  it("names what the minutes of painting come from", () => {
    const touch = sound().figures.find(({ id }) => id === "lead.sky.touch");
    const { origin } = touch ?? {};
    const from =
      origin?.kind === "given" && origin.source.kind === "computed" ? origin.source.from : [];
    const rows = from.map(({ file, line }) => `${file}:${line}`);
    for (const row of ["parts.csv:2", "job.yaml:1", "tables/tasks.csv:6", "tables/settings.csv:10"])
      expect(rows).toContain(row);
  });
});

it.each([
  [8, []],
  [7, ["wanted-sooner"]],
])("wanted in %d days it is told to be too soon: %j", (days, codes) => {
  const wanted = [`wanted_days,${days}`, "usual_days,15", "rush_percent_per_day,1"];
  const given = ["hours_per_day,5", "materials_days,2", "delivery_days,1"];
  const { value, problems } = result({ settings: [...given, ...wanted] });
  expect(value?.leadTime?.workingDays).toBe(8);
  expect(problems.map(({ code }) => code)).toEqual(codes);
});

it("is on the maker's sheet day by day", () => {
  const sheet = makersSheet(sound());
  const begin = sheet.indexOf("    sky: 6 x plate");
  const lines = sheet.slice(begin, sheet.indexOf("\n[ ] Spraying", begin)).split("\n");
  expect(lines).toEqual([
    "    sky: 6 x plate",
    "    [ ] [ ] colour: 2 coats on front, back and edges; Sky blue; next coat after",
    "            10 min, within 1 h or after 48 h; touch after 90 min; hard after 24",
    "            h",
    "    When, in days of painting:",
    "      day 1  0:00  colour 1 of 2, front and edges",
    "             0:14  colour 2 of 2, front and edges (flashed off)",
    "             1:48  colour 1 of 2, back (dry to touch)",
    "             2:01  colour 2 of 2, back (flashed off)",
    "             3:35  all may be touched",
    "      day 2  2:05  all is hard",
  ]);
  expect(sheet).toContain("Times to dry hold from 18 to 29 degrees");
});
