import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { attainableArea } from "../../src/nesting/attainable.ts";

describe("what whole copies can take of a sheet", () => {
  it("is never less than the best of all sets, and seldom more by a tenth of a percent", () => {
    let judged = 0;
    let below = 0;
    const portion = fc.record({
      area: fc.double({ min: 0.01, max: 90, noNaN: true }),
      copies: fc.integer({ min: 1, max: 4 }),
    });
    fc.assert(
      fc.property(fc.array(portion, { minLength: 1, maxLength: 4 }), (portions) => {
        const offered = 100;
        const truth = bestOfAll(portions, offered);
        const most = attainableArea(portions, offered);
        expect(most).toBeGreaterThanOrEqual(truth);
        expect(most).toBeLessThanOrEqual(offered);
        judged++;
        if (most < offered && most <= truth * 1.001) below++;
      }),
      { seed: 5, numRuns: 300 },
    );
    expect(judged).toBe(300);
    expect(below).toBeGreaterThan(200);
  });

  it("is nothing where nothing goes on it, and all where there is enough of the small", () => {
    expect(attainableArea([], 100)).toBe(0);
    expect(attainableArea([{ area: 60, copies: 3 }], 0)).toBe(0);
    expect(attainableArea([{ area: 60, copies: 3 }], 100)).toBeCloseTo(60, 6);
    expect(attainableArea([{ area: 0.01, copies: 20_000 }], 100)).toBeCloseTo(100, 6);
  });
});

/** Every number of copies of each, tried. */
function bestOfAll(
  portions: readonly { readonly area: number; readonly copies: number }[],
  offered: number,
): number {
  const [first, ...rest] = portions;
  if (first === undefined) return 0;
  let best = 0;
  for (let copies = 0; copies <= first.copies && copies * first.area <= offered; copies++) {
    const taken = copies * first.area;
    best = Math.max(best, taken + bestOfAll(rest, offered - taken));
  }
  return best;
}
