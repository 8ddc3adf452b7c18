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
  halfFeedMin: null,
  twiceFeedMin: null,
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

/** A table with further columns, the same in every row. */
function withColumns(table: string, names: readonly string[], cells: string): string {
  const [head = "", ...rows] = table.trimEnd().split("\n");
  return [`${head},${names.join(",")}`, ...rows.map((row) => `${row},${cells}`)].join("\n");
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

  it("keeps what else the row of a task has", () => {
    const tables = SMALL.tables.map((one) =>
      one.name.endsWith("tasks.csv")
        ? { ...one, text: withColumns(one.text, ["learning_percent", "supplies_each"], "95,0.40") }
        : one,
    );
    const { value } = logReport({ ...SMALL, tables }, logOf([ASSEMBLE], [ASSEMBLE]));
    expect(value!.proposedTasks).toMatchObject([{ learningPercent: "95", suppliesEach: "0.4" }]);
    const [head = "", row = ""] = logText(value!)
      .split("\n")
      .filter((line) => /^(?:id|assemble),/.test(line));
    expect(head.endsWith(",source,learning_percent,supplies_each")).toBe(true);
    expect(row.endsWith(",95,0.4")).toBe(true);
  });

  it("proposes nothing from one job that is ten times off, and says why", () => {
    const { value } = logReport(SMALL, logOf([{ ...CUT, took: 130 }]));
    expect(value!.proposed).toEqual([]);
    expect(logText(value!)).toMatch(
      /\nNo row proposed:\n {2}cut birch plywood 4 mm on own: one job alone, and more than 3 times/,
    );
    // A second one that says the same makes it a measurement.
    const both = logReport(SMALL, logOf([{ ...CUT, took: 130 }], [{ ...CUT, took: 128 }]));
    expect(both.value!.proposed).toMatchObject([{ runs: 2 }]);
  });

  it("leaves a slip among three jobs out, and names it", () => {
    const noted = [13, 13.2, 130].map((took) => [{ ...CUT, took }]);
    const { value } = logReport(SMALL, logOf(...noted));
    const [feed] = value!.proposed;
    expect(feed).toMatchObject({ runs: 2, leftOut: 1 });
    expect(feed!.likely).toBeGreaterThan(8.7);
    expect(feed!.likely).toBeLessThan(9.01);
    expect(logText(value!)).toMatch(
      /own, cut +1\.31 .* 2 runs\n[^]*Left out, more than 3 times off[^]*\n {2}2026-11-03 {2}job {2}birch plywood 4 mm, cut\n/,
    );
    const two = logReport(SMALL, logOf([CUT], [{ ...CUT, took: 130 }])).value!;
    expect([two.proposed, two.withheld]).toMatchObject([[], [{ why: "apart" }]]);
  });

  it("says that older rows take corners to be no slower at more feed", () => {
    expect(said(CUT)).toContain("Rows without half_feed_min");
    expect(said({ ...CUT, halfFeedMin: 18, twiceFeedMin: 4.5 })).not.toContain("Rows without");
  });

  it("says so where nothing was noted", () => {
    const none = text("shop-log.csv", logOf([CUT]).text.replace(",13,", ",,"));
    const { value } = logReport(SMALL, none);
    expect(logText(value!)).toBe("Nothing was noted yet.\n");
  });

  it("does not go on without tables or a log that can be read", () => {
    const broken = text("shop-log.csv", logOf([CUT]).text.replace(",13,", ",long,"));
    expect(logReport(SMALL, broken).problems.map(({ column }) => column)).toEqual(["took"]);
  });
});

function said(row: Taken): string {
  return logText(logReport(SMALL, logOf([row])).value!);
}
