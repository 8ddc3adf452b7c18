import { svgPathProperties } from "svg-path-properties";
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  circlePath,
  legsOf,
  pathArea,
  pathBounds,
  pathEnd,
  pathLength,
  polylinePath,
  reversePath,
} from "../../src/geometry/path.ts";
import { flattenPath } from "../../src/geometry/flatten.ts";
import { ringArea, ringBounds, ringPerimeter } from "../../src/geometry/ring.ts";
import type { Path } from "../../src/geometry/types.ts";
import { closedPath, openPath } from "./paths.ts";

describe("length", () => {
  it("of a circle is pi d, of a polyline the sum of its sides", () => {
    expect(pathLength(circlePath({ x: 3, y: -7 }, 10))).toBeCloseTo(20 * Math.PI, 12);
    const square = polylinePath(
      [
        { x: 0, y: 0 },
        { x: 3, y: 0 },
        { x: 3, y: 4 },
      ],
      true,
    );
    expect(pathLength(square)).toBe(12);
  });

  it("of a parabola agrees with its closed formula", () => {
    // y = x^2 over 0..1 as a cubic; length sqrt(5)/2 + asinh(2)/4 by integration.
    const parabola: Path = {
      start: { x: 0, y: 0 },
      segments: [
        {
          kind: "cubic",
          control1: { x: 1 / 3, y: 0 },
          control2: { x: 2 / 3, y: 1 / 3 },
          to: { x: 1, y: 1 },
        },
      ],
      closed: false,
    };
    expect(pathLength(parabola)).toBeCloseTo(Math.sqrt(5) / 2 + Math.asinh(2) / 4, 11);
  });

  it("of a cubic with a cusp is met as well", () => {
    // x = 3t^2 - 2t^3 scaled, y = 0 after the turn-back: out to the turning point and home again.
    const cusp: Path = {
      start: { x: 0, y: 0 },
      segments: [
        { kind: "cubic", control1: { x: 4, y: 0 }, control2: { x: 4, y: 0 }, to: { x: 0, y: 0 } },
      ],
      closed: true,
    };
    expect(pathLength(cusp)).toBeCloseTo(6, 9);
  });

  it("of cubics agrees with svg-path-properties as far as its 24-point rule reaches", () => {
    let judged = 0;
    const smooth = fc.array(fc.integer({ min: 0, max: 100 }), { minLength: 4, maxLength: 4 });
    fc.assert(
      fc.property(smooth, ([a = 0, b = 0, c = 0, d = 0]) => {
        // Controls that advance in x keep the speed away from zero, where that rule is exact.
        const path: Path = {
          start: { x: 0, y: a },
          segments: [
            {
              kind: "cubic",
              control1: { x: 60, y: b },
              control2: { x: 120, y: c },
              to: { x: 180, y: d },
            },
          ],
          closed: false,
        };
        const reference = new svgPathProperties(`M0 ${a}C60 ${b} 120 ${c} 180 ${d}`);
        expect(pathLength(path) / reference.getTotalLength()).toBeCloseTo(1, 9);
        judged++;
      }),
      { numRuns: 200, seed: 11 },
    );
    expect(judged).toBe(200);
  });
});

describe("area", () => {
  it("of a circle is pi r squared, negative when run clockwise", () => {
    const circle = circlePath({ x: 1000, y: 1000 }, 5);
    expect(pathArea(circle)).toBeCloseTo(25 * Math.PI, 9);
    expect(pathArea(reversePath(circle))).toBeCloseTo(-25 * Math.PI, 9);
  });

  it("under the parabola y = x squared is a third", () => {
    const path: Path = {
      start: { x: 0, y: 0 },
      segments: [
        { kind: "line", to: { x: 1, y: 0 } },
        { kind: "line", to: { x: 1, y: 1 } },
        {
          kind: "cubic",
          control1: { x: 2 / 3, y: 1 / 3 },
          control2: { x: 1 / 3, y: 0 },
          to: { x: 0, y: 0 },
        },
      ],
      closed: true,
    };
    expect(pathArea(path)).toBeCloseTo(1 / 3, 14);
  });

  it("and length are the limits of the polygon's, at second order", () => {
    let curved = 0;
    fc.assert(
      fc.property(closedPath, (path) => {
        const tolerance = 1e-3;
        const ring = flattenPath(path, tolerance);
        const length = pathLength(path);
        expect(Math.abs(ringArea(ring) - pathArea(path))).toBeLessThanOrEqual(
          tolerance * length + 1e-6,
        );
        expect(ringPerimeter(ring)).toBeLessThanOrEqual(length * (1 + 1e-12));
        expect(ringPerimeter(ring)).toBeGreaterThan(length - 0.01 - length * 1e-4);
        if (path.segments.some(({ kind }) => kind !== "line")) curved++;
      }),
      { numRuns: 150, seed: 12 },
    );
    expect(curved).toBeGreaterThan(100);
  });
});

describe("bounds", () => {
  it("of a quarter arc reach only what it sweeps", () => {
    const quarter: Path = {
      start: { x: 10, y: 0 },
      segments: [
        { kind: "arc", to: { x: 0, y: 10 }, centre: { x: 0, y: 0 }, sweepRad: Math.PI / 2 },
      ],
      closed: false,
    };
    expect(pathBounds(quarter)).toEqual({ minX: 0, minY: 0, maxX: 10, maxY: 10 });
    const other: Path = {
      ...quarter,
      segments: [
        { kind: "arc", to: { x: 0, y: 10 }, centre: { x: 0, y: 0 }, sweepRad: (-3 * Math.PI) / 2 },
      ],
    };
    expect(pathBounds(other)).toEqual({ minX: -10, minY: -10, maxX: 10, maxY: 10 });
  });

  it("hold every flattened point and are reached by some within the tolerance", () => {
    fc.assert(
      fc.property(openPath, (path) => {
        const exact = pathBounds(path);
        const flat = ringBounds(flattenPath(path, 0.01));
        for (const side of ["minX", "minY", "maxX", "maxY"] as const) {
          const outside = side.startsWith("min")
            ? flat[side] - exact[side]
            : exact[side] - flat[side];
          expect(outside).toBeGreaterThan(-1e-9);
          expect(outside).toBeLessThan(0.01 + 1e-9);
        }
      }),
      { numRuns: 200, seed: 13 },
    );
  });
});

describe("reversing", () => {
  it("keeps length, negates area, and twice is the path itself", () => {
    fc.assert(
      fc.property(closedPath, (path) => {
        const back = reversePath(path);
        expect(pathEnd(back)).toEqual(path.start);
        expect(pathLength(back)).toBeCloseTo(pathLength(path), 6);
        expect(pathArea(back)).toBeCloseTo(-pathArea(path), 5);
        expect(reversePath(back)).toEqual(path);
        expect(legsOf(back)).toHaveLength(path.segments.length);
      }),
      { numRuns: 100, seed: 14 },
    );
  });
});
