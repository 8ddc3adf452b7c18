import { svgPathProperties } from "svg-path-properties";
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { endpointArc } from "../../src/geometry/ellipse.ts";
import { pathArea, pathEnd, pathLength } from "../../src/geometry/path.ts";
import type { Path, Point } from "../../src/geometry/types.ts";
import { point } from "./paths.ts";

const circular = { rotationDeg: 0, largeArc: false, sweep: true };

describe("arcs given by their ends", () => {
  it("take the four ways that the flags choose from", () => {
    const expected = [
      { largeArc: false, sweep: true, turn: 1 / 4 },
      { largeArc: true, sweep: true, turn: 3 / 4 },
      { largeArc: false, sweep: false, turn: -1 / 4 },
      { largeArc: true, sweep: false, turn: -3 / 4 },
    ];
    for (const { largeArc, sweep, turn } of expected) {
      const to = { x: 0, y: 10 };
      const [arc] = endpointArc(
        { x: 10, y: 0 },
        { radiusX: 10, radiusY: 10, rotationDeg: 0, largeArc, sweep, to },
      );
      expect(arc?.kind).toBe("arc");
      if (arc?.kind !== "arc") continue;
      expect(arc.sweepRad).toBeCloseTo(turn * 2 * Math.PI, 12);
      const centre = largeArc === sweep ? { x: 10, y: 10 } : { x: 0, y: 0 };
      expect(arc.centre.x).toBeCloseTo(centre.x, 12);
      expect(arc.centre.y).toBeCloseTo(centre.y, 12);
    }
  });

  it("enlarge radii that can not reach (SVG 1.1 F.6.6)", () => {
    const path = pathOf(
      { x: 0, y: 0 },
      { ...circular, radiusX: 1, radiusY: 1, to: { x: 20, y: 0 } },
    );
    expect(pathLength(path)).toBeCloseTo(10 * Math.PI, 9);
  });

  it("are a line without a radius and nothing without a distance", () => {
    const to = { x: 5, y: 5 };
    expect(endpointArc({ x: 0, y: 0 }, { ...circular, radiusX: 0, radiusY: 3, to })).toEqual([
      { kind: "line", to },
    ]);
    expect(endpointArc(to, { ...circular, radiusX: 3, radiusY: 3, to })).toEqual([]);
  });

  it("take the right half of a turned ellipse", () => {
    const radii = { radiusX: 30, radiusY: 10, rotationDeg: 90 };
    const half = pathOf({ x: 0, y: -30 }, { ...circular, ...radii, to: { x: 0, y: 30 } });
    // Counter-clockwise (x towards y) from below to above: over the right side.
    expect(pathArea(half)).toBeCloseTo((Math.PI * 300) / 2, 4);
  });

  it("agree in length with svg-path-properties, to its own accuracy of about 1e-3", () => {
    let judged = 0;
    const radius = fc.integer({ min: 20, max: 300 });
    fc.assert(
      fc.property(
        point,
        point,
        radius,
        radius,
        fc.integer({ min: -180, max: 180 }),
        fc.boolean(),
        fc.boolean(),
        (from, to, radiusX, radiusY, rotationDeg, largeArc, sweep) => {
          if (Math.hypot(from.x - to.x, from.y - to.y) < 1) return;
          const path = pathOf(from, { radiusX, radiusY, rotationDeg, largeArc, sweep, to });
          const d = `M${from.x} ${from.y}A${radiusX} ${radiusY} ${rotationDeg} ${+largeArc} ${+sweep} ${to.x} ${to.y}`;
          const reference = new svgPathProperties(d).getTotalLength();
          expect(Math.abs(pathLength(path) / reference - 1)).toBeLessThan(5e-3);
          expect(pathEnd(path)).toEqual(to);
          judged++;
        },
      ),
      { numRuns: 200, seed: 51 },
    );
    expect(judged).toBeGreaterThan(180);
  });
});

function pathOf(start: Point, arc: Parameters<typeof endpointArc>[1]): Path {
  return { start, segments: endpointArc(start, arc), closed: false };
}
