import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Amount } from "../../../src/money.ts";
import { planCuts, type Bar, type LengthWanted } from "../../../src/nesting/bars/saw-plan.ts";
import { drain } from "../../helpers/drain.ts";
import { bestByTrial, faults } from "./brute-force.ts";

function bar(lengthMm: number, more: Partial<Bar> = {}): Bar {
  const price = new Amount(1);
  return { lengthMm, price, sawKerfMm: 0, endTrimMm: 0, onHand: null, ...more };
}

function wanted(...pairs: readonly (readonly [number, number])[]): readonly LengthWanted[] {
  return pairs.map(([lengthMm, count]) => ({ name: `of ${lengthMm}`, lengthMm, count }));
}

/** Judged before it is given back. */
function planned(lengths: readonly LengthWanted[], bars: readonly Bar[]) {
  const plan = drain(planCuts("sawing", lengths, bars));
  expect(faults(lengths, plan)).toEqual([]);
  expect(plan.costBound.lte(plan.cost)).toBe(true);
  return plan;
}

function count(lengths: readonly LengthWanted[], one: Bar): number {
  return planned(lengths, [one]).bars.length;
}

function left(lengths: readonly LengthWanted[], one: Bar): readonly number[] {
  return planned(lengths, [one]).bars.map(({ leftMm }) => leftMm);
}

/** How many bars of which length, what they cost and what is proved. */
function outcome(lengths: readonly LengthWanted[], bars: readonly Bar[]) {
  const { bars: sawn, cost, costBound } = planned(lengths, bars);
  const counts = bars.map((one) => sawn.filter((each) => each.bar === one).length);
  return { counts, cost: cost.toNumber(), bound: costBound.toNumber() };
}

describe("a saw plan of one length of bar", () => {
  it.each([
    [
      "453 bars for Chvatal's example (Linear Programming, chapter 13; relaxation 452.25)",
      wanted([45, 97], [36, 610], [31, 395], [14, 211]),
      100,
      453,
    ],
    [
      "73 rolls for the 5600 mm paper mill (encyclopaedia, cutting stock problem)",
      wanted(
        ...([1380, 1520, 1560, 1710, 1820, 1880, 1930] as const).map(
          (width, i) => [width, [22, 25, 12, 14, 18, 18, 20][i]!] as const,
        ),
        ...([2000, 2050, 2100, 2140, 2150, 2200] as const).map(
          (width, i) => [width, [10, 12, 14, 16, 18, 20][i]!] as const,
        ),
      ),
      5600,
      73,
    ],
    [
      "47 rolls where the relaxation has 46.25 (Gilmore-Gomory example, textbook data)",
      wanted([20, 48], [45, 35], [50, 24], [55, 10], [75, 8]),
      110,
      47,
    ],
  ] as const)("takes and proves %s", (_, lengths, barMm, bars) => {
    expect(outcome(lengths, [bar(barMm)])).toEqual({ counts: [bars], cost: bars, bound: bars });
  });

  it("needs no cut after a piece that ends with the bar (trade facts C7, derived)", () => {
    expect(count(wanted([330, 3]), bar(1000, { sawKerfMm: 3 }))).toBe(1);
    expect(count(wanted([250, 4]), bar(1000, { sawKerfMm: 2 }))).toBe(2);
    // 4 x 250 with three cuts of 2 mm is 1006 mm: with 6 mm more in the bar it is one bar.
    expect(count(wanted([250, 4]), bar(1006, { sawKerfMm: 2 }))).toBe(1);
    expect(count(wanted([250, 4]), bar(1010, { sawKerfMm: 2, endTrimMm: 5 }))).toBe(2);
  });

  it("says what is left of each bar: less a cut, and less the trim of both ends", () => {
    expect(left(wanted([330, 3]), bar(1010, { sawKerfMm: 3 }))).toEqual([11]);
    expect(left(wanted([330, 3]), bar(1010, { sawKerfMm: 3, endTrimMm: 5 }))).toEqual([6]);
    // The last cut runs out over the end.
    expect(left(wanted([330, 3]), bar(998, { sawKerfMm: 3 }))).toEqual([0]);
  });

  it("keeps names apart that share a length", () => {
    const lengths = [
      { name: "post", lengthMm: 400, count: 2 },
      { name: "rail", lengthMm: 400, count: 1 },
    ];
    const names = planned(lengths, [bar(1200)]).bars.map(({ pieces }) =>
      pieces.map(({ name }) => name),
    );
    expect(names).toEqual([["post", "post", "rail"]]);
  });
});

describe("a saw plan of several lengths of bar", () => {
  const priced = [
    bar(1000, { price: new Amount("4.00") }),
    bar(2000, { price: new Amount("7.00") }),
    bar(3000, { price: new Amount("11.00") }),
  ];

  it("mixes them where that costs less, and says what is too long for all", () => {
    expect(outcome(wanted([900, 2]), priced)).toEqual({ counts: [0, 1, 0], cost: 7, bound: 7 });
    expect(outcome(wanted([900, 3]), priced)).toEqual({ counts: [1, 1, 0], cost: 11, bound: 11 });
    expect(planned(wanted([900, 2], [3100, 1]), priced).missing).toEqual(wanted([3100, 1]));
    expect(planned(wanted([900, 1]), []).missing).toEqual(wanted([900, 1]));
    expect(planned([], priced).bars).toEqual([]);
  });

  it("takes 753 m of bars for the desk legs (Gueret, Prins, Sevaux 2002, chapter 9, from memory)", () => {
    const byLength = [150, 200].map((length) => bar(length, { price: new Amount(length) }));
    const legs = wanted([40, 432], [60, 500], [70, 400]);
    expect(outcome(legs, byLength)).toMatchObject({ cost: 75300, bound: 75300 });
  });

  it("takes what lies on the shelf first, the shorter where both cost nothing", () => {
    const free = new Amount(0);
    const shelf = [
      bar(2500, { price: free, onHand: 1 }),
      bar(800, { price: free, onHand: 2 }),
      bar(2000, { price: new Amount("7.00") }),
    ];
    expect(outcome(wanted([700, 2]), shelf)).toEqual({ counts: [0, 2, 0], cost: 0, bound: 0 });
    expect(outcome(wanted([700, 6]), shelf)).toEqual({ counts: [1, 1, 1], cost: 7, bound: 7 });
  });

  it("names the pieces that the bars on hand do not yield", () => {
    const few = [bar(1000, { onHand: 1 }), bar(600, { onHand: 1 })];
    const plan = planned(wanted([500, 4]), few);
    expect(plan.missing).toEqual(wanted([500, 1]));
  });

  it("is the best there is by exhaustive search, its bound never above the truth", () => {
    const kinds = fc.array(
      fc.record({
        lengthMm: fc.integer({ min: 40, max: 140 }),
        price: fc.integer({ min: 0, max: 90 }).map((cents) => new Amount(cents).div(100)),
        sawKerfMm: fc.constantFrom(0, 1.5, 3),
        endTrimMm: fc.constantFrom(0, 5),
        onHand: fc.constantFrom(null, null, 1, 2, 3),
      }),
      { minLength: 1, maxLength: 4 },
    );
    const pieces = fc.array(fc.integer({ min: 10, max: 80 }), { minLength: 1, maxLength: 6 });
    const judged = { all: 0, proved: 0, limited: 0, mixed: 0, missing: 0, shortest: 0 };
    fc.assert(
      fc.property(kinds, pieces, (bars, each) => {
        const lengths = each.map((lengthMm, i) => ({ name: `${i}`, lengthMm, count: 1 }));
        const plan = planned(lengths, bars);
        const [missing, cost, lengthMm] = bestByTrial(lengths, bars);
        expect(plan.missing.length).toBe(missing);
        judged.all++;
        expect(plan.cost.toNumber()).toBeCloseTo(cost, 9);
        if (missing > 0) judged.missing++;
        else {
          const used = plan.bars.reduce((sum, one) => sum + one.bar.lengthMm, 0);
          if (used === lengthMm) judged.shortest++;
        }
        if (missing === 0 && plan.costBound.eq(plan.cost)) judged.proved++;
        if (plan.bars.some((one) => one.bar.onHand !== null)) judged.limited++;
        if (new Set(plan.bars.map((one) => one.bar)).size > 1) judged.mixed++;
      }),
      { seed: 20, numRuns: 250 },
    );
    expect(judged.all).toBe(250);
    // Nothing is taken for proved that was not, and hardly anything stays open.
    expect(judged.proved).toBe(judged.all - judged.missing);
    expect(judged.shortest).toBe(judged.all - judged.missing);
    expect(Math.min(judged.limited, judged.mixed, judged.missing)).toBeGreaterThan(30);
  });

  it("stops when it is told to, with a whole plan and a bound that holds", () => {
    const byLength = [150, 200].map((length) => bar(length, { price: new Amount(length) }));
    const legs = wanted([40, 432], [60, 500], [70, 400]);
    let seen = 0;
    const plan = drain(planCuts("sawing", legs, byLength), ({ best }) => {
      seen++;
      expect(best && faults(legs, best)).toEqual([]);
      return true;
    });
    expect(seen).toBeGreaterThan(0);
    expect(faults(legs, plan)).toEqual([]);
    expect(plan.costBound.toNumber()).toBeLessThanOrEqual(75300);
    expect(plan.cost.toNumber()).toBeGreaterThanOrEqual(75300);
  });

  it("comes near its bound on larger lists, the same again and again", () => {
    let judged = 0;
    const list = fc.array(
      fc.record({
        lengthMm: fc.integer({ min: 80, max: 2200 }),
        count: fc.integer({ min: 1, max: 9 }),
      }),
      { minLength: 8, maxLength: 16 },
    );
    const bars = [
      bar(2500, { sawKerfMm: 3.2, endTrimMm: 10, price: new Amount("9.60") }),
      bar(4000, { sawKerfMm: 3.2, endTrimMm: 10, price: new Amount("14.90"), onHand: 4 }),
    ];
    fc.assert(
      fc.property(list, (rows) => {
        const lengths = rows.map((row, i) => ({ ...row, name: `row ${i}` }));
        const plan = planned(lengths, bars);
        expect(plan.missing).toEqual([]);
        expect(plan.cost.toNumber()).toBeLessThanOrEqual(plan.costBound.toNumber() * 1.02);
        expect(drain(planCuts("sawing", lengths, bars))).toEqual(plan);
        judged++;
      }),
      { seed: 21, numRuns: 4 },
    );
    expect(judged).toBe(4);
  });
});
