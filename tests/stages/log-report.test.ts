import { describe, expect, it } from "vitest";
import { logText } from "../../src/exports/log-text.ts";
import type { SourceText } from "../../src/job/types.ts";
import { withTaken } from "../../src/log/book.ts";
import type { Taken } from "../../src/log/entries.ts";
import { logReport } from "../../src/stages/log-report.ts";
import { SMALL } from "../helpers/job.ts";
import { text } from "../job/texts.ts";
import { ROW } from "../machine/samples.ts";

/** Ten minutes of cutting 4 mm plywood, of which 9 along lines at the table's 12 mm/s. */
const CUT: Taken = {
  what: "machine",
  item: "birch plywood 4 mm",
  operation: "cut",
  unit: "min",
  estimated: 10,
  took: 13,
  note: "",
  machine: "own",
  material: "birch plywood",
  thicknessMm: 4,
  workingMin: 9,
  feedMmS: 12,
  passes: 1,
  eachMin: null,
  place: ROW.place,
};
/** The table has 12 minutes for a piece. */
const ASSEMBLE: Taken = {
  ...CUT,
  what: "hand work",
  item: "assemble",
  operation: null,
  machine: "",
  material: "",
  thicknessMm: null,
  workingMin: null,
  feedMmS: null,
  passes: null,
  eachMin: 12,
  estimated: 36,
  took: 54,
};

function logOf(...jobs: readonly (readonly Taken[])[]): SourceText {
  return jobs.reduce<SourceText>(
    (log, taken, index) => {
      const before = index === 0 ? null : log;
      return text(
        "shop-log.csv",
        withTaken(before, "job", `2026-11-0${index + 1}`, taken).value!.text,
      );
    },
    text("shop-log.csv", ""),
  );
}

describe("the report of a log", () => {
  it("proposes a feed of 9 mm/s where nine minutes at 12 mm/s took twelve", () => {
    const { value, problems } = logReport(SMALL, logOf([CUT]));
    expect(problems).toEqual([]);
    expect(value!.proposed).toEqual([
      expect.objectContaining({ id: "own-ply-4", likely: expect.closeTo(9, 9), now: 12, runs: 1 }),
    ]);
    expect(logText(value!)).toMatch(
      /\nown-ply-4,own,birch plywood,4,cut,5\.6\d,9,14\.4,1,0\.2,yes,2026-11-01,/,
    );
  });

  it("proposes minutes of a task from two jobs on, and where the table is off only", () => {
    const proposed = (...jobs: readonly (readonly Taken[])[]) =>
      logReport(SMALL, logOf(...jobs)).value!.proposedTasks.map(({ task, likely, now }) => [
        task,
        Math.round(likely),
        now,
      ]);
    expect(proposed([ASSEMBLE])).toEqual([]);
    expect(proposed([ASSEMBLE], [{ ...ASSEMBLE, took: 55 }])).toEqual([["assemble", 18, 12]]);
    const even = { ...ASSEMBLE, took: 36 };
    expect(proposed([even], [{ ...even, took: 37 }])).toEqual([]);
    const { value } = logReport(SMALL, logOf([ASSEMBLE], [ASSEMBLE]));
    expect(logText(value!)).toMatch(
      /\nassemble,Assembly,piece,[\d.]+,18,[\d.]+,bench,always,,Making and assembly,,2026-11-02,/,
    );
  });

  it("says so where nothing was noted", () => {
    const { value } = logReport(SMALL, logOf([{ ...CUT, took: null }]));
    expect(logText(value!)).toBe("Nothing was noted yet.\n");
  });

  it("does not go on without tables or a log that can be read", () => {
    const broken = text("shop-log.csv", logOf([CUT]).text.replace(",13,", ",long,"));
    expect(logReport(SMALL, broken).problems.map(({ column }) => column)).toEqual(["took"]);
  });
});
