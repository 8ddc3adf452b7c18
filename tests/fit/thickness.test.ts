import { expect, it } from "vitest";
import { thicknessOf } from "../../src/fit/thickness.ts";

const CAST_ACRYLIC = { overMm: 0.4, overPerMm: 0.1, underMm: 0.4, underPerMm: 0.1 };
const SANDED_PLYWOOD = { overMm: 0.2, overPerMm: 0.03, underMm: 0.4, underPerMm: 0.03 };

it("cast acrylic may depart from its name by what ISO 7823-1 allows", () => {
  // ISO 7823-1 by a trade page quoting it, worked for each thickness.
  const worked = [
    [3, 0.7],
    [5, 0.9],
    [6, 1.0],
    [8, 1.2],
    [10, 1.4],
    [12, 1.6],
    [15, 1.9],
    [20, 2.4],
  ] as const;
  for (const [name, away] of worked) {
    const { lowMm, likelyMm, highMm, measured } = thicknessOf(name, null, CAST_ACRYLIC);
    expect([lowMm, highMm].map((mm) => Number(mm.toFixed(9)))).toEqual([
      Number((name - away).toFixed(9)),
      Number((name + away).toFixed(9)),
    ]);
    expect([likelyMm, measured]).toEqual([name, false]);
  }
});

it("sanded plywood may depart from its name as a mill's table has it", () => {
  // Formula of a trade page quoting GB/T 9846, values of a plywood mill table.
  const worked = [
    [4, 0.32, 0.52],
    [6, 0.38, 0.58],
    [9, 0.47, 0.67],
    [12, 0.56, 0.76],
  ] as const;
  for (const [name, over, under] of worked) {
    const { lowMm, highMm } = thicknessOf(name, null, SANDED_PLYWOOD);
    expect(highMm - name).toBeCloseTo(over, 9);
    expect(name - lowMm).toBeCloseTo(under, 9);
  }
});

it("what was measured is what it is", () => {
  expect(thicknessOf(3, 2.86, CAST_ACRYLIC)).toEqual({
    lowMm: 2.86,
    likelyMm: 2.86,
    highMm: 2.86,
    measured: true,
  });
});
