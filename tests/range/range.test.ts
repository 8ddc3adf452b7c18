import { beforeAll, describe, expect, it } from "vitest";
import type { Estimate } from "../../src/estimate-data.ts";
import { FigureSheet, recompute } from "../../src/figure.ts";
import type { Figure, Source } from "../../src/figure.ts";
import { Amount } from "../../src/money.ts";
import { figureOf } from "../../src/pricing/figure-record.ts";
import { programFor } from "../../src/range/program.ts";
import { rangeOf } from "../../src/range/range.ts";
import { demoInput } from "../helpers/demo.ts";
import { estimated } from "../helpers/job.ts";

const DRAWS = { seed: 1, draws: 4000 };

function cell(line: number): Source {
  return { kind: "cell", place: { file: "tasks.csv", line, column: "minutes" }, cited: null };
}

interface Uncertain {
  readonly line: number;
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/** Minutes of several rows, summed, at a rate of 30 an hour. */
function costOf(...inputs: readonly Uncertain[]): readonly Figure[] {
  const sheet = new FigureSheet();
  const ids = inputs.map(({ line, low, likely, high }, at) =>
    sheet.given(`minutes-${at}`, `minutes ${at}`, "min", likely, cell(line), {
      low: new Amount(low),
      high: new Amount(high),
    }),
  );
  sheet.derived("minutes", "minutes", "min", "sum", ids);
  sheet.given("rate", "rate", "currency/h", 30, cell(99));
  sheet.derived("cost", "cost", "currency", "minutes at hourly rate", ["minutes", "rate"]);
  sheet.derived("cans", "cans", "pcs", "rounded up", ["minutes"]);
  return sheet.figures();
}

function moments(values: Float64Array): { readonly mean: number; readonly variance: number } {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length;
  return { mean, variance };
}

describe("the range of a figure", () => {
  it("of one uncertain row is that row's own", () => {
    // 120, 180, 300 min at 30 an hour: the triangle 60, 90, 150, by hand: F(x) = (x - 60)^2 / 2700 and
    // 1 - (150 - x)^2 / 5400.
    const range = rangeOf(costOf({ line: 2, low: 120, likely: 180, high: 300 }), "cost", DRAWS)!;
    expect(range.p10).toBeCloseTo(60 + Math.sqrt(270), 1);
    expect(range.p50).toBeCloseTo(150 - Math.sqrt(2700), 1);
    expect(range.p90).toBeCloseTo(150 - Math.sqrt(540), 1);
    expect(range.drivers[0]?.share).toBeGreaterThan(0.9);
  });

  it("adds up variances of rows that do not depend on each other", () => {
    const [one, other] = [
      { line: 2, low: 120, likely: 180, high: 300 },
      { line: 3, low: 0, likely: 60, high: 120 },
    ];
    const { mean, variance } = moments(rangeOf(costOf(one, other), "cost", DRAWS)!.draws);
    // Minutes: means 200 + 60; variances 1400 + 600, and the rate is a half (Johnson 1997).
    expect(mean).toBeCloseTo(130, 1);
    expect(variance / 500).toBeGreaterThan(0.95);
    expect(variance / 500).toBeLessThan(1.05);
  });

  it("lets what one row says lie off together", () => {
    const twice = [2, 2].map((line) => ({ line, low: 120, likely: 180, high: 300 }));
    const range = rangeOf(costOf(...twice), "cost", DRAWS)!;
    expect(range.drivers).toHaveLength(1);
    expect(range.drivers[0]?.figures).toEqual(["minutes-0", "minutes-1"]);
    // Twice the same minutes: four times the variance of one, not two times.
    expect(moments(range.draws).variance / 1400).toBeCloseTo(1, 1);
  });

  it("buys whole cans in every draw", () => {
    const figures = costOf({ line: 2, low: 2, likely: 2.5, high: 3.5 });
    const { draws } = rangeOf(figures, "cans", DRAWS)!;
    expect(new Set(draws)).toEqual(new Set([3, 4]));
    // F(3) = 1 - 0.5^2 / (1.5 x 1) = 5/6 need three at most.
    expect(draws.filter((cans) => cans === 3).length / draws.length).toBeCloseTo(5 / 6, 2);
  });

  it("names the rows by how much hangs on them", () => {
    const figures = costOf(
      { line: 2, low: 50, likely: 60, high: 70 },
      { line: 3, low: 0, likely: 60, high: 200 },
      { line: 4, low: 58, likely: 60, high: 62 },
    );
    const { drivers } = rangeOf(figures, "cost", DRAWS)!;
    expect(drivers.map(({ place }) => place.line)).toEqual([3, 2, 4]);
    expect(drivers.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 1);
    for (const { atP10, atP90, swing } of drivers) expect(atP90 - atP10).toBe(swing);
  });

  it("is none where nothing is uncertain, and the same for the same seed", () => {
    const certain = costOf({ line: 2, low: 60, likely: 60, high: 60 });
    expect(rangeOf(certain, "cost", DRAWS)).toBeNull();
    const figures = costOf({ line: 2, low: 1, likely: 2, high: 9 });
    expect(rangeOf(figures, "rate", DRAWS)).toBeNull();
    const [first, again, other] = [1, 1, 2].map((seed) =>
      rangeOf(figures, "cost", { seed, draws: 100 }),
    );
    expect(first).toEqual(again);
    expect(first).not.toEqual(other);
  });
});

it("draws the same whatever else is uncertain that the figure does not hang on", () => {
  const figures = costOf({ line: 2, low: 120, likely: 180, high: 300 });
  const sheet = new FigureSheet();
  sheet.given("density", "density", "kg/m3", 690, cell(50), {
    low: new Amount(660),
    high: new Amount(710),
  });
  const [plain, beside] = [figures, [...sheet.figures(), ...figures]];
  expect(rangeOf(beside, "cost", DRAWS)).toEqual(rangeOf(plain, "cost", DRAWS));
});

describe("the range of a demo", () => {
  let estimate: Estimate;
  let figures: readonly Figure[];
  beforeAll(async () => {
    estimate = estimated(await demoInput("opening-sign"));
    figures = estimate.figures.map(figureOf);
  }, 60_000);

  it("works out what the decimals would", () => {
    const uncertain = figures.filter(({ spread }) => spread !== undefined);
    expect(uncertain.length).toBeGreaterThan(15);
    const ids = uncertain.map(({ id }) => id);
    const program = programFor(figures, ids, "cost.with-overhead");
    for (const end of ["low", "high"] as const) {
      const changed = new Map(uncertain.map(({ id, spread }) => [id, spread![end]]));
      const exact = recompute(figures, changed).get("cost.with-overhead")!;
      const values = ids.map((id) => changed.get(id)!.toNumber());
      expect(program.run(values)).toBeCloseTo(exact.toNumber(), 6);
    }
  });

  it("is told with what it leaves of the price", () => {
    const { range, quote } = estimate;
    const net = Number(quote.find(({ kind }) => kind === "subtotal")?.amount);
    expect(range).not.toBeNull();
    const { cost, profit, drivers, lossChance, likelyCost } = range!;
    expect(Number(cost.p10)).toBeLessThan(Number(cost.p50));
    expect(Number(cost.p50)).toBeLessThan(Number(cost.p90));
    expect(Number(profit.p10)).toBeCloseTo(net - Number(cost.p90), 2);
    expect(Number(profit.p90)).toBeCloseTo(net - Number(cost.p10), 2);
    expect(lossChance).toBeLessThan(0.1);
    // Rows lean to the dear side, so that all likely values together are less than even odds.
    expect(Number(likelyCost)).toBeLessThan(Number(cost.p50));
    const swings = drivers.map(({ swing }) => Number(swing));
    expect(swings).toEqual(swings.toSorted((a, b) => b - a));
  });
});
