import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dayAfter, isDay } from "../../src/job/day.ts";

/** Calendar days against those of the platform (ECMAScript's proleptic Gregorian calendar). */

const MS_PER_DAY = 86_400_000;

function isoDay(ms: number): string {
  return new Date(ms).toISOString().slice(0, 10);
}

describe("a day so many days later", () => {
  it("is that of the platform's calendar, over leap years and centuries", () => {
    const first = Date.UTC(1890, 0, 1) / MS_PER_DAY;
    const last = Date.UTC(2410, 0, 1) / MS_PER_DAY;
    fc.assert(
      fc.property(
        fc.integer({ min: first, max: last }),
        fc.integer({ min: 0, max: 1000 }),
        (day, days) => {
          const after = dayAfter(isoDay(day * MS_PER_DAY), days);
          expect(after).toBe(isoDay((day + days) * MS_PER_DAY));
          expect(isDay(after)).toBe(true);
        },
      ),
      { numRuns: 1000, seed: 20261126 },
    );
  });
});
