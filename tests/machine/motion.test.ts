import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { moveTime, peakSpeed } from "../../src/machine/motion.ts";

describe("moveTime", () => {
  // Source: trapezoid and triangle formulas of motion-control texts, worked by hand.
  it.each([
    [100, 1.1, 5],
    [10, 0.2, 12],
    [4, 0.126_49, 5],
  ])("takes %d mm at 100 mm/s and 1000 mm/s2 in %d s", (distance, seconds, digits) => {
    expect(moveTime(distance, 100, 1000)).toBeCloseTo(seconds, digits);
  });

  // Source: bureau price page, 493.3 mm at 7 mm/s, "just about one minute"; 70.47 s by division.
  it("approaches length over feed when acceleration costs nothing", () => {
    expect(moveTime(493.3, 7, Number.POSITIVE_INFINITY)).toBeCloseTo(70.47, 2);
    expect(moveTime(493.3, 7, 1000)).toBeCloseTo(493.3 / 7 + 7 / 1000, 9);
  });

  it("meets entry and exit speeds", () => {
    // By hand: 30 to 50 to 40 mm/s at 100 mm/s2 takes 0.2 + 0.1 s over 8 + 4.5 mm.
    expect(moveTime(12.5, 200, 100, 30, 40)).toBeCloseTo(0.3, 12);
    expect(peakSpeed(12.5, 200, 100, 30, 40)).toBeCloseTo(50, 12);
    // 10 mm more at 50 mm/s when that is the cruising speed.
    expect(moveTime(22.5, 50, 100, 30, 40)).toBeCloseTo(0.5, 12);
  });

  // Source: motion control text: 100 units, speeding up at 2 and braking at 4: peak 16.330, 12.247 s.
  it("makes up a move that brakes harder than it speeds up, in two", () => {
    const peak = Math.sqrt((2 * 2 * 4 * 100) / (2 + 4));
    const [up, down] = [peak ** 2 / (2 * 2), peak ** 2 / (2 * 4)];
    expect(peak).toBeCloseTo(16.33, 3);
    expect(up + down).toBeCloseTo(100, 9);
    expect(moveTime(up, 100, 2, 0, peak) + moveTime(down, 100, 4, peak, 0)).toBeCloseTo(12.247, 3);
  });

  it("takes no time for no distance and keeps a passing speed", () => {
    expect(moveTime(0, 100, 1000)).toBe(0);
    expect(moveTime(30, 100, 1000, 100, 100)).toBeCloseTo(0.3, 12);
  });

  it("refuses speeds that the distance does not allow", () => {
    expect(() => moveTime(1, 100, 1000, 0, 50)).toThrow(RangeError);
    expect(() => moveTime(100, 100, 1000, 120, 0)).toThrow(RangeError);
    expect(() => moveTime(-1, 100, 1000)).toThrow(RangeError);
    expect(() => moveTime(1, 0, 1000)).toThrow(RangeError);
  });

  it("agrees with the integral over the way", () => {
    const seen = { triangle: 0, trapezoid: 0 };
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 300, noNaN: true }),
        fc.double({ min: 10, max: 200, noNaN: true }),
        fc.double({ min: 200, max: 4000, noNaN: true }),
        (distance, cruise, acceleration) => {
          seen[peakSpeed(distance, cruise, acceleration) < cruise ? "triangle" : "trapezoid"] += 1;
          const integral = integratedTime(distance, cruise, acceleration);
          expect(moveTime(distance, cruise, acceleration) / integral).toBeCloseTo(1, 5);
        },
      ),
      { seed: 1, numRuns: 100 },
    );
    expect(Math.min(seen.triangle, seen.trapezoid)).toBeGreaterThanOrEqual(10);
  });
});

/**
 * The integral of ds / v(s), where v is the lowest of the cruising speed, what the way behind lets it
 * reach and what the way ahead lets it brake from. With s = L sin2(u) the integrand stays finite.
 */
function integratedTime(distance: number, cruise: number, acceleration: number): number {
  const steps = 4000;
  const width = Math.PI / 2 / steps;
  let time = 0;
  for (let index = 0; index < steps; index += 1) {
    const u = (index + 0.5) * width;
    const behind = distance * Math.sin(u) ** 2;
    const ahead = distance * Math.cos(u) ** 2;
    const speed = Math.min(cruise, Math.sqrt(2 * acceleration * Math.min(behind, ahead)));
    time += (distance * Math.sin(2 * u) * width) / speed;
  }
  return time;
}
