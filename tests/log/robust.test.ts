import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { forFew, median, robustFit } from "../../src/log/robust.ts";
import type { Seen } from "../../src/log/robust.ts";
import { randomFrom } from "../../src/random.ts";

// Brownlee, Statistical Theory and Methodology, 1965: losses of a plant that oxidises ammonia, by
// flow of air, temperature of water and concentration of acid; the usual trial of robust methods.
const STACK_LOSS: readonly (readonly [number, number, number, number])[] = [
  [42, 80, 27, 89],
  [37, 80, 27, 88],
  [37, 75, 25, 90],
  [28, 62, 24, 87],
  [18, 62, 22, 87],
  [18, 62, 23, 87],
  [19, 62, 24, 93],
  [20, 62, 24, 93],
  [15, 58, 23, 87],
  [14, 58, 18, 80],
  [14, 58, 18, 89],
  [13, 58, 17, 88],
  [11, 58, 18, 82],
  [12, 58, 19, 93],
  [8, 50, 18, 89],
  [7, 50, 18, 86],
  [8, 50, 19, 72],
  [8, 50, 19, 79],
  [9, 50, 20, 80],
  [15, 56, 20, 82],
  [15, 70, 20, 91],
];

describe("a robust fit", () => {
  // Coefficients and standard errors as printed in the documentation of a Python statistics library
  // for Huber's weights with the median absolute deviation.
  it("gives the published coefficients and errors of the stack losses", () => {
    const seen = STACK_LOSS.map(([y, air, water, acid]) => ({ x: [air, water, acid, 1], y }));
    const fit = robustFit(seen)!;
    const printed = [0.82938433, 0.92606597, -0.12784672, -41.02649835];
    for (const [index, value] of printed.entries())
      expect(Math.abs(fit.coefficients[index]! - value)).toBeLessThan(2e-4 * Math.abs(value));
    const errors = [0.11100521, 0.30293016, 0.12864961, 9.79189854];
    for (const [index, value] of errors.entries())
      expect(Math.abs(fit.standardErrors![index]! - value)).toBeLessThan(2e-4 * value);
    expect(fit.freedom).toBe(17);
    // The days that every robust method finds odd, as counted in the literature on these data.
    const odd = fit.weights.flatMap((weight, index) => (weight < 0.6 ? [index + 1] : []));
    expect(odd).toEqual([4, 21]);
  });

  // Source: one maker's published log, as in trade facts 2.5: vertices, drawn mm, seconds.
  const JOBS = [
    [2339, 14_689.6, 827],
    [4549, 13_990.2, 832],
    [1512, 23_544.4, 1046],
  ] as const;

  it("solves the published fit of three measured jobs anew", () => {
    const fit = robustFit(JOBS.map(([vertices, mm, y]) => ({ x: [1, vertices, mm], y })))!;
    const [fixed, each, perMm] = fit.coefficients;
    expect(fixed).toBeCloseTo(425.1097, 1);
    expect(each).toBeCloseTo(0.0104, 4);
    expect(perMm).toBeCloseTo(0.0257, 4);
  });

  it("foretells each of them by a feed and a time for each corner from the two others within a third", () => {
    for (const [index, [vertices, mm, seconds]] of JOBS.entries()) {
      const others = JOBS.filter((_, other) => other !== index);
      const [each, perMm] = robustFit(others.map(([n, l, y]) => ({ x: [n, l], y })))!.coefficients;
      const foretold = (vertices * each! + mm * perMm!) / seconds;
      expect(Math.abs(Math.log(foretold))).toBeLessThan(Math.log(4 / 3));
    }
  });

  it("is plain least squares where nothing is odd", () => {
    let judged = 0;
    const values = fc.array(fc.double({ min: -1, max: 1, noNaN: true }), {
      minLength: 5,
      maxLength: 12,
    });
    fc.assert(
      fc.property(values, (noise) => {
        const seen = noise.map((one, at) => ({ x: [1, at], y: 3 + 2 * at + one }));
        const fit = robustFit(seen, { least: 1, held: false });
        if (fit === null || fit.weights.some((weight) => weight < 1)) return;
        judged += 1;
        const [n, meanX] = [seen.length, (seen.length - 1) / 2];
        const meanY = seen.reduce((sum, { y }) => sum + y, 0) / n;
        const slope =
          seen.reduce((sum, { y }, at) => sum + (at - meanX) * (y - meanY), 0) /
          seen.reduce((sum, _, at) => sum + (at - meanX) ** 2, 0);
        expect(fit.coefficients[1]).toBeCloseTo(slope, 8);
        expect(fit.coefficients[0]).toBeCloseTo(meanY - slope * meanX, 8);
      }),
      { seed: 7, numRuns: 200 },
    );
    expect(judged).toBeGreaterThan(100);
  });

  it("is where no step in any direction makes Huber's loss smaller", () => {
    let bent = 0;
    const noise = fc.array(fc.double({ min: -1, max: 1, noNaN: true }), {
      minLength: 7,
      maxLength: 11,
    });
    fc.assert(
      fc.property(noise, fc.integer({ min: 0, max: 6 }), (all, odd) => {
        const seen = all.map((one, at) => ({
          x: [1, (at * 7) % 5],
          y: 1 + 0.5 * ((at * 7) % 5) + one + (at === odd ? 40 : 0),
        }));
        const fit = robustFit(seen, { least: 0.1, held: false })!;
        bent += fit.weights.filter((weight) => weight < 1).length > 0 ? 1 : 0;
        const [a, b] = fit.coefficients;
        const least = huberLoss(seen, [a!, b!], fit.scale);
        for (const step of [1, 0.1, 0.01, 0.001])
          for (let turn = 0; turn < 24; turn += 1) {
            const angle = (turn * Math.PI) / 12;
            const there = [a! + step * Math.cos(angle), b! + step * Math.sin(angle)];
            expect(huberLoss(seen, there, fit.scale)).toBeGreaterThanOrEqual(least - 1e-9);
          }
      }),
      { seed: 11, numRuns: 60 },
    );
    expect(bent).toBe(60);
  });

  it("has no answer where what was seen can not tell, and no errors where nothing is left over", () => {
    expect(robustFit([{ x: [1, 2], y: 3 }])).toBeNull();
    const alike = [1, 2, 3].map((k) => ({ x: [k, 2 * k], y: k }));
    expect(robustFit(alike)).toBeNull();
    const two = [
      { x: [1, 0], y: 3 },
      { x: [0, 1], y: 4 },
    ];
    expect(robustFit(two)).toMatchObject({ coefficients: [3, 4], standardErrors: null });
  });

  // The table of Croux and Rousseeuw, against 20,000 draws of so many normal values each.
  it.each([2, 3, 4, 5, 6, 7, 8, 9, 12])(
    "knows what the deviation of %i values falls short by",
    (n) => {
      const draw = randomFrom(n);
      const normal = (): number =>
        Math.sqrt(-2 * Math.log(1 - draw())) * Math.cos(2 * Math.PI * draw());
      let sum = 0;
      for (let trial = 0; trial < 20_000; trial += 1) {
        const values = Array.from({ length: n }, normal);
        const middle = median(values);
        sum += median(values.map((one) => Math.abs(one - middle))) / 0.6745;
      }
      expect((forFew(n) * sum) / 20_000).toBeCloseTo(1, 1.5);
    },
  );

  it("does not take agreement for certainty", () => {
    const same = [1, 1, 1, 1].map((y) => ({ x: [1], y }));
    expect(robustFit(same, { least: 0.1, held: false })!.standardErrors![0]).toBeCloseTo(0.05, 12);
  });
});

/** Huber, 1964: half the square up to 1.345 scales, straight beyond. */
function huberLoss(seen: readonly Seen[], at: readonly number[], scale: number): number {
  const bend = 1.345 * scale;
  return seen.reduce((sum, { x, y }) => {
    const off = Math.abs(y - x[0]! * at[0]! - x[1]! * at[1]!);
    return sum + (off <= bend ? off ** 2 / 2 : bend * (off - bend / 2));
  }, 0);
}
