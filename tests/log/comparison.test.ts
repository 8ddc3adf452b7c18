import { describe, expect, it } from "vitest";
import { corrections } from "../../src/log/comparison.ts";
import type { Entry } from "../../src/log/entries.ts";
import { measuredFeeds } from "../../src/log/measured-feeds.ts";
import { measuredTasks } from "../../src/log/measured-tasks.ts";
import { ROW } from "../machine/samples.ts";

/** Eighty minutes of cutting, of which 75 along lines at 12 mm/s. */
const CUT: Entry = {
  what: "machine",
  item: "acrylic cast 3 mm",
  operation: "cut",
  unit: "min",
  estimated: 80,
  took: 96,
  note: "",
  machine: "laser",
  material: "acrylic cast",
  thicknessMm: 3,
  workingMin: 75,
  halfFeedMin: null,
  twiceFeedMin: null,
  feedMmS: 12,
  passes: 1,
  eachMin: null,
  done: "2026-11-01",
  job: "one",
  place: ROW.place,
};
const ENGRAVE: Entry = {
  ...CUT,
  operation: "engrave",
  estimated: 40,
  workingMin: 38,
  feedMmS: 300,
};

function on(day: number, ...rows: readonly Entry[]): readonly Entry[] {
  return rows.map((row) => ({ ...row, done: `2026-11-${String(day).padStart(2, "0")}` }));
}

/** A whole run of these operations, none of which was timed alone. */
function whole(took: number, ...rows: readonly Entry[]): readonly Entry[] {
  const estimated = rows.reduce((sum, row) => sum + row.estimated, 0);
  const parts = rows.map((row) => ({ ...row, took: null }));
  return [...parts, { ...CUT, operation: "all", estimated, took, workingMin: null, feedMmS: null }];
}

describe("corrections", () => {
  it("are by machine and operation", () => {
    const log = [
      ...on(1, { ...CUT, took: 96 }, { ...ENGRAVE, took: 36 }),
      ...on(2, { ...CUT, took: 96 }, { ...ENGRAVE, took: 36 }),
      ...on(3, { ...CUT, machine: "other", took: 40 }),
    ];
    expect(
      corrections(log).map(({ name, operations, factor, runs }) => [
        name,
        operations,
        factor.toFixed(6),
        runs,
      ]),
    ).toEqual([
      ["laser", ["engrave"], "0.900000", 2],
      ["laser", ["cut"], "1.200000", 2],
      ["other", ["cut"], "0.500000", 1],
    ]);
  });

  it("come from whole runs as well, where other runs tell the operations apart", () => {
    const log = [
      ...on(1, ...whole(0.9 * 40 + 1.2 * 80, CUT, ENGRAVE)),
      ...on(2, { ...CUT, took: 96 }),
      ...on(3, { ...CUT, took: 96 }),
    ];
    const [engrave, cut] = corrections(log);
    expect([engrave!.operations, cut!.operations]).toEqual([["engrave"], ["cut"]]);
    expect(engrave!.factor).toBeCloseTo(0.9, 6);
    expect(cut!.factor).toBeCloseTo(1.2, 6);
  });

  it("are of all operations together where no run tells them apart", () => {
    const log = [1, 2].flatMap((day) => on(day, ...whole(132, CUT, ENGRAVE)));
    const found = corrections(log);
    expect(found.map(({ operations, runs }) => [operations, runs])).toEqual([
      [["engrave", "cut"], 2],
    ]);
    expect(found[0]!.factor).toBeCloseTo(1.1, 9);
  });

  it("do not go on asking for what a new feed has mended", () => {
    // At 12 mm/s 75 of 80 minutes; at 10 mm/s 90 of 95, which is what it took all the time.
    const mended = { ...CUT, feedMmS: 10, workingMin: 90, estimated: 95, took: 95 };
    const log = [...on(1, { ...CUT, took: 95 }), ...on(2, { ...CUT, took: 95 }), ...on(3, mended)];
    expect(corrections(log)[0]!.factor).toBeCloseTo(1, 9);
    expect(corrections(log.slice(0, 2))[0]!.factor).toBeCloseTo(95 / 80, 9);
  });

  it("are of paint, sheets and hand work one by one", () => {
    const spray = {
      ...CUT,
      what: "hand work",
      item: "spray",
      operation: null,
      machine: "",
    } as const;
    const log = [
      ...on(1, { ...spray, estimated: 60, took: 90 }),
      ...on(2, { ...spray, estimated: 40, took: 60 }, { ...spray, item: "sand", took: null }),
      ...on(3, { ...spray, what: "paint", item: "primer", estimated: 2, took: 3 }),
    ];
    expect(corrections(log).map(({ what, name, factor }) => [what, name, factor])).toEqual([
      ["hand work", "spray", expect.closeTo(1.5, 9)],
      ["paint", "primer", expect.closeTo(1.5, 9)],
    ]);
  });
});

describe("measured feeds", () => {
  it("are so fast that the lines take what starts and travel leave", () => {
    // 96 minutes less 5 beside the lines leave 91 for what 75 took at 12 mm/s.
    const [feed, ...others] = measuredFeeds(on(4, { ...CUT, took: 96 })).measured;
    expect(others).toEqual([]);
    expect(feed!.likely).toBeCloseTo((12 * 75) / 91, 9);
    expect(feed).toMatchObject({ machine: "laser", thicknessMm: 3, operation: "cut", passes: 1 });
    // One run: the spread of published feeds, 1.6 either way.
    expect([feed!.low * 1.6, feed!.high / 1.6, feed!.between]).toEqual([
      expect.closeTo(feed!.likely, 9),
      expect.closeTo(feed!.likely, 9),
      null,
    ]);
    expect([feed!.runs, feed!.done]).toEqual([1, "2026-11-04"]);
  });

  it("do not depend on the feed that was estimated with", () => {
    const slower = { ...CUT, feedMmS: 10, workingMin: 90, estimated: 95 };
    const log = [...on(1, { ...CUT, took: 95 }), ...on(2, { ...slower, took: 95 })];
    const [feed] = measuredFeeds(log).measured;
    expect(feed!.likely).toBeCloseTo(10, 9);
    expect(feed!.runs).toBe(2);
    expect(feed!.low).toBeLessThan(10);
    expect(feed!.between![1]).toBeGreaterThan(10);
  });

  it("are not taken from other passes, from engraving, or from a run of several operations", () => {
    const twice = { ...CUT, passes: 2 };
    expect(
      measuredFeeds([...on(1, twice), ...on(2, CUT)]).measured.map(({ runs }) => runs),
    ).toEqual([1]);
    expect(measuredFeeds(on(1, ENGRAVE)).measured).toEqual([]);
    expect(measuredFeeds(on(1, ...whole(132, CUT, ENGRAVE))).measured).toEqual([]);
    expect(measuredFeeds(on(1, { ...CUT, took: 4 })).measured).toEqual([]);
  });

  it("are taken from a whole run of nothing but one operation", () => {
    expect(measuredFeeds(on(1, ...whole(96, CUT))).measured[0]!.likely).toBeCloseTo(
      (12 * 75) / 91,
      9,
    );
  });
});

describe("measured tasks", () => {
  const SPRAY: Entry = {
    ...CUT,
    what: "hand work",
    item: "spray",
    operation: null,
    machine: "",
    estimated: 60,
    took: 90,
    eachMin: 8,
  };

  it("are the table's minutes times what jobs took over the estimate", () => {
    const [task, ...others] = measuredTasks([
      ...on(1, SPRAY, { ...SPRAY, item: "sand" }),
      ...on(2, { ...SPRAY, estimated: 30, took: 45 }),
    ]);
    expect(others).toEqual([]);
    expect(task).toMatchObject({ task: "spray", runs: 2, done: "2026-11-02" });
    expect(task!.likely).toBeCloseTo(12, 9);
    expect(task!.low).toBeLessThan(task!.between[0]);
    expect(task!.between[0]).toBeLessThan(12);
    expect(task!.high).toBeGreaterThan(task!.between[1]);
  });

  it("do not go on growing once the table has them", () => {
    const mended = { ...SPRAY, estimated: 90, took: 90, eachMin: 12 };
    const log = [...on(1, SPRAY), ...on(2, SPRAY), ...on(3, mended)];
    expect(measuredTasks(log)[0]!.likely).toBeCloseTo(12, 9);
    expect(corrections(log)[0]!.factor).toBeCloseTo(1, 9);
  });

  it("are not told where a job had minutes of its own", () => {
    const own = { ...SPRAY, eachMin: null };
    expect(measuredTasks([...on(1, SPRAY), ...on(2, own)])).toEqual([]);
  });

  it("are the same with a job between that had minutes of its own", () => {
    const own = { ...SPRAY, took: 30, eachMin: null };
    const [first, last] = [on(1, SPRAY), on(3, SPRAY)];
    const ofTable = measuredTasks([...first, ...last]);
    expect(ofTable).toHaveLength(1);
    expect(measuredTasks([...first, ...on(2, own), ...last])).toEqual(ofTable);
  });
});
