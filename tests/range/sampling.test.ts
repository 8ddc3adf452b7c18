import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DECIMALS } from "../../src/arithmetic.ts";
import { FORMULAS } from "../../src/formulas.ts";
import type { FormulaName } from "../../src/formulas.ts";
import { Amount } from "../../src/money.ts";
import { randomFrom } from "../../src/random.ts";
import { DOUBLES } from "../../src/range/doubles.ts";
import { latinHypercube } from "../../src/range/draws.ts";
import { quantile } from "../../src/range/quantile.ts";
import { triangleQuantile } from "../../src/range/triangle.ts";

const POINTS = { low: 120, likely: 180, high: 300 };

function ends(low: number, likely: number, high: number): readonly number[] {
  return [0, 0.5, 1].map((share) => triangleQuantile({ low, likely, high }, share));
}

describe("the triangle of least, likely and most", () => {
  it("has the shares of its distribution function", () => {
    // (x - a)^2 / ((b - a)(c - a)) below the peak, 1 - (b - x)^2 / ((b - a)(b - c)) above (Johnson 1997).
    const { low: a, likely: c, high: b } = POINTS;
    const shareBelow = (x: number): number =>
      x <= c ? (x - a) ** 2 / ((b - a) * (c - a)) : 1 - (b - x) ** 2 / ((b - a) * (b - c));
    for (let share = 0; share <= 1; share += 1 / 64)
      expect(shareBelow(triangleQuantile(POINTS, share))).toBeCloseTo(share, 12);
  });

  it("has its mean and its variance", () => {
    // (a + b + c) / 3 and (a2 + b2 + c2 - ab - ac - bc) / 18 (Johnson 1997): here 200 and 1400.
    const values = Array.from({ length: 20_000 }, (_, at) =>
      triangleQuantile(POINTS, (at + 0.5) / 20_000),
    );
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length;
    expect(mean).toBeCloseTo(200, 3);
    expect(variance).toBeCloseTo(1400, 1);
  });

  it("may have its peak at an end, or no width", () => {
    expect(ends(1, 1, 3)).toEqual([1, 3 - Math.SQRT2, 3]);
    expect(ends(1, 3, 3)).toEqual([1, 1 + Math.SQRT2, 3]);
    expect(ends(7, 7, 7)).toEqual([7, 7, 7]);
  });
});

describe("draws by the Latin hypercube", () => {
  it("have one in each part of every input, each in an order of its own, the same for a seed", () => {
    const shares = latinHypercube(3, 500, randomFrom(7));
    for (const one of shares)
      expect([...one].map((share) => Math.floor(share * 500)).toSorted((a, b) => a - b)).toEqual(
        Array.from({ length: 500 }, (_, at) => at),
      );
    const [first, second] = shares.map((one) => [...one].map((share) => Math.floor(share * 500)));
    expect(first).not.toEqual(second);
    expect(latinHypercube(3, 500, randomFrom(7))).toEqual(shares);
  });
});

describe("a quantile", () => {
  it.each([
    // R's documentation of quantile(), type 7, for the numbers 1 to 10.
    [0.25, 3.25],
    [0.5, 5.5],
    [0.75, 7.75],
    [0, 1],
    [1, 10],
  ])("of %d is %d of 1 to 10", (share, value) => {
    expect(
      quantile(
        Float64Array.from({ length: 10 }, (_, at) => at + 1),
        share,
      ),
    ).toBe(value);
  });
});

/** Whole counts where a formula wants them; percentages below 100. */
const INPUTS = fc.tuple(
  fc.integer({ min: 1, max: 40 }),
  fc.integer({ min: 1, max: 99 }),
  fc.integer({ min: 1, max: 60 }),
);

describe("formulas in doubles", () => {
  const names = Object.keys(FORMULAS).filter((name): name is FormulaName => name in FORMULAS);

  it.each(names)("agree with decimals: %s", (name) => {
    fc.assert(
      fc.property(INPUTS, (inputs) => {
        const exact = FORMULAS[name].compute(
          DECIMALS,
          inputs.map((input) => new Amount(input)),
        );
        const double = FORMULAS[name].compute(DOUBLES, inputs);
        expect(exact.minus(double).abs().toNumber()).toBeLessThanOrEqual(
          1e-12 * Math.max(1, Math.abs(double)),
        );
      }),
      { numRuns: 40 },
    );
  });

  it("leave the dust before a whole number, and refuse what has no answer", () => {
    expect(DOUBLES.ceiling(0.1 + 0.2 - 0.3 + 4)).toBe(4);
    expect(DOUBLES.nearest(-2.5)).toBe(-3);
    expect(DOUBLES.ceiling(4.00001)).toBe(5);
    expect(() => DOUBLES.over(1, 0)).toThrow("division by zero");
  });
});
