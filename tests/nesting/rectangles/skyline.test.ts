import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Skyline } from "../../../src/nesting/rectangles/skyline.ts";

const WIDTH = 12;

/** The same edge, kept as one height for each unit of width. */
function heightsOf({ steps, lefts, widths, tops }: Skyline): readonly number[] {
  const heights: number[] = [];
  for (let step = 0; step < steps; step++) {
    expect(lefts[step]).toBe(heights.length);
    // Steps of the same height are one.
    expect(tops[step]).not.toBe(tops[step + 1 < steps ? step + 1 : -1]);
    heights.push(...Array.from({ length: widths[step]! }, () => tops[step]!));
  }
  return heights;
}

describe("the skyline", () => {
  it("is that of columns raised one by one", () => {
    const counted = { put: 0, filled: 0, joined: 0 };
    const move = fc.record({
      width: fc.integer({ min: 1, max: WIDTH }),
      up: fc.integer({ min: 1, max: 4 }),
      atRight: fc.boolean(),
      give: fc.boolean(),
    });
    fc.assert(
      fc.property(fc.array(move, { maxLength: 25 }), (moves) => {
        const skyline = new Skyline(30);
        skyline.clear(WIDTH);
        let columns: readonly number[] = Array.from({ length: WIDTH }, () => 0);
        for (const { width, up, atRight, give } of moves) {
          const before = skyline.steps;
          const step = skyline.lowest();
          const [left, wide, top] = [
            skyline.lefts[step]!,
            skyline.widths[step]!,
            skyline.tops[step]!,
          ];
          expect(top).toBe(Math.min(...columns));
          expect(left).toBe(columns.indexOf(top));
          if (give && before > 1) {
            const walls = [columns[left - 1], columns[left + wide]].filter(
              (wall) => wall !== undefined,
            );
            columns = columns
              .with(left, 0)
              .map((height, x) => (x >= left && x < left + wide ? Math.min(...walls) : height));
            if (skyline.fill(step)) counted.filled++;
          } else {
            const own = Math.min(width, wide);
            const from = atRight ? left + wide - own : left;
            columns = columns.map((height, x) => (x >= from && x < from + own ? top + up : height));
            skyline.put(step, own, top + up, atRight);
            counted.put++;
          }
          if (skyline.steps < before) counted.joined++;
          expect(heightsOf(skyline)).toEqual(columns);
        }
      }),
      { seed: 3, numRuns: 600 },
    );
    expect(counted.put).toBeGreaterThan(1500);
    expect(counted.filled).toBeGreaterThan(500);
    expect(counted.joined).toBeGreaterThan(500);
  });

  it("cannot be given up where it is all one step", () => {
    const skyline = new Skyline(2);
    skyline.clear(WIDTH);
    expect(skyline.fill(0)).toBe(false);
  });
});
