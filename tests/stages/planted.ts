import type { EstimateInput } from "../../src/estimate-data.ts";
import type { Problem } from "../../src/problem.ts";
import { readWorked, toolBoard } from "../worked/tool-board.ts";

/** The hand-worked job with slips planted in its files, each in another cell than the others. */

export interface Plant {
  /** As on disk: `job/parts.csv`. */
  readonly file: string;
  readonly change: (text: string) => string;
  /** Code, file and column of what is to be said of it. */
  readonly said: string;
}

/** Code, file as the program calls it, column. */
export function told({ code, file, column }: Problem): string {
  return `${code} ${file} ${column ?? ""}`;
}

export function planted(plants: readonly Plant[]): EstimateInput {
  const changed = new Map<string, string>();
  for (const { file, change } of plants) {
    const before = changed.get(file) ?? readWorked(file);
    const after = change(before);
    if (after === before) throw new RangeError(`nothing planted in ${file}`);
    changed.set(file, after);
  }
  return toolBoard(Object.fromEntries(changed));
}

function swap(file: string, from: string, to: string, said: string): Plant {
  return { file, change: (text) => text.replace(from, to), said };
}

function add(file: string, row: string, said: string): Plant {
  return { file, change: (text) => `${text.trimEnd()}\n${row}\n`, said };
}

function drop(file: string, row: string, said: string): Plant {
  const change = (text: string): string =>
    text
      .split("\n")
      .filter((line) => !line.startsWith(row))
      .join("\n");
  return { file, change, said };
}

const DATED = "2026-01-01,invented for the test";

/** At least one slip in every file of the job and in every table; no two in one row. */
export const PLANTS: readonly Plant[] = [
  add(
    "job/parts.csv",
    "knob,one,birch plywood,9,,disc,,,40,,,,,,",
    "not-a-whole-number parts.csv qty",
  ),
  add("job/parts.csv", "star,1,birch plywood,9,,star,,,40,,,,,,", "not-a-choice parts.csv shape"),
  add("job/parts.csv", "flag,1,brass,9,,disc,,,40,,,,,,", "unknown-material parts.csv material"),
  add("job/parts.csv", "foil,1,PVC,9,,disc,,,40,,,,,,", "never-laser parts.csv material"),
  add(
    "job/parts.csv",
    "thin,1,birch plywood,2,,disc,,,40,,,,,,",
    "unknown-thickness parts.csv thickness",
  ),
  add(
    "job/parts.csv",
    "blue,1,birch plywood,9,,disc,,,40,,,,,sky,",
    "unknown-finish parts.csv finish",
  ),
  add(
    "job/parts.csv",
    "nose,1,birch plywood,9,drawings/nose.svg,,,,,,,,,,",
    "drawing-missing parts.csv drawing",
  ),
  add(
    "job/parts.csv",
    "door,1,acrylic cast,3,,rectangle,400,250,,,,any,,,",
    "does-not-fit parts.csv part",
  ),
  swap(
    "job/drawings/name-plate.svg",
    "L 90 0 H 0 Z",
    "L 90 0",
    "contour-open drawings/name-plate.svg path",
  ),
  swap("job/job.yaml", "pieces: 2", "pieces: two", "not-a-whole-number job.yaml pieces"),
  swap("job/job.yaml", "reference:", "refrence:", "unknown-key job.yaml refrence"),
  add("job/hardware.csv", "m5-blot,1,piece,,,", "unknown-item hardware.csv item"),
  add("job/hardware.csv", "wood-glue,0,order,,,", "not-a-number hardware.csv qty"),
  add("job/hardware.csv", "hook-rail,1,part,bord,,", "unknown-part hardware.csv part"),
  add("job/hardware.csv", "wood-screw,1,hole,ring,5.5,", "no-such-hole hardware.csv hole diameter"),
  add("job/lengths.csv", "mast,oak-strip,4 m,1,", "longer-than-bars lengths.csv length"),
  add("job/lengths.csv", "peg,oak-stick,80,1,", "unknown-stock lengths.csv stock"),
  add("job/lengths.csv", "pin,oak-strip,80,none,", "not-a-whole-number lengths.csv qty"),
  add("job/hand-work.csv", "polish,,,,", "unknown-task hand-work.csv task"),
  add("job/hand-work.csv", "pack,board,,,", "part-not-used hand-work.csv part"),
  add("job/hand-work.csv", "drill,,,often,", "not-an-amount hand-work.csv minutes"),
  swap(
    "tables/settings.csv",
    "tax_percent,19",
    "tax_percent,19 %",
    "not-an-amount tables/settings.csv value",
  ),
  drop("tables/settings.csv", "overhead_percent", "missing-setting settings.csv overhead_percent"),
  swap("tables/sheets.csv", "1200,800,20.00", "1200,800,", "empty-cell tables/sheets.csv price"),
  drop("tables/feeds.csv", "ply-9-cut", "no-feed feeds.csv "),
  swap(
    "tables/feeds.csv",
    "16,20,25",
    "16,20,fast",
    "not-a-number tables/feeds.csv feed_high_mm_s",
  ),
  add(
    "tables/machines.csv",
    `plotter,Plotter,own,1,hour,0,0,1,1,-700,500,200,1000,,0.1,${DATED}`,
    "not-a-number tables/machines.csv bed_width_mm",
  ),
  swap(
    "tables/finishes.csv",
    "oiled,oil,hard-oil",
    "oiled,oil,hard-oli",
    "unknown-reference tables/finishes.csv paint",
  ),
  swap("tables/paints.csv", "40,3.20", "40,cheap", "not-an-amount tables/paints.csv price"),
  swap(
    "tables/hardware.csv",
    "fixing,,12,2.25",
    "fixing,,0,2.25",
    "not-a-whole-number tables/hardware.csv pack_size",
  ),
  add(
    "tables/stock-lengths.csv",
    `ash-strip,Ash strip,long,3,10,4.20,${DATED}`,
    "not-a-number tables/stock-lengths.csv length_mm",
  ),
  swap(
    "tables/tasks.csv",
    "assemble,Assembly,piece,15,20,30,bench",
    "assemble,Assembly,piece,15,20,30,bnech",
    "unknown-reference tables/tasks.csv rate",
  ),
  swap(
    "tables/rates.csv",
    "design,Design work,45.00",
    "design,Design work,",
    "empty-cell tables/rates.csv per_hour",
  ),
];
