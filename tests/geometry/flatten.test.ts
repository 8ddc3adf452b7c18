import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { arcPoint, arcRadius } from "../../src/geometry/arc.ts";
import { cubicPoint } from "../../src/geometry/cubic.ts";
import { flattenPath, isStraight } from "../../src/geometry/flatten.ts";
import { circlePath, legsOf, polylinePath } from "../../src/geometry/path.ts";
import type { Path, Point } from "../../src/geometry/types.ts";
import { openPath } from "./paths.ts";

describe("flattening", () => {
  it("puts a circle's vertices on the circle and keeps the sagitta under the tolerance", () => {
    const ring = flattenPath(circlePath({ x: 2, y: 3 }, 40), 0.05);
    for (const { x, y } of ring) expect(Math.hypot(x - 2, y - 3)).toBeCloseTo(40, 12);
    const chord = Math.hypot(ring[0]!.x - ring[1]!.x, ring[0]!.y - ring[1]!.y);
    const sagitta = 40 - Math.sqrt(1600 - (chord * chord) / 4);
    expect(sagitta).toBeLessThanOrEqual(0.05);
    // No more vertices than the tolerance asks for: 2 acos(1 - t/r) to each chord.
    expect(ring).toHaveLength(2 * Math.ceil(Math.PI / (2 * Math.acos(1 - 0.05 / 40))));
  });

  it("keeps eight corners of a circle smaller than the tolerance", () => {
    expect(flattenPath(circlePath({ x: 0, y: 0 }, 0.01), 0.05)).toHaveLength(8);
  });

  it("leaves straight lines alone and drops repeated points", () => {
    const path = polylinePath(
      [
        { x: 0, y: 0 },
        { x: 1, y: 0 },
        { x: 1, y: 0 },
        { x: 1, y: 1 },
      ],
      true,
    );
    expect(isStraight(path)).toBe(true);
    expect(flattenPath(path, 0.05)).toEqual([
      { x: 0, y: 0 },
      { x: 1, y: 0 },
      { x: 1, y: 1 },
    ]);
  });

  it("keeps every point of the curve within the tolerance of its chord", () => {
    let chords = 0;
    fc.assert(
      fc.property(openPath, fc.constantFrom(0.5, 0.05, 0.01), (path, tolerance) => {
        for (const leg of legsOf(path)) {
          const single = { start: leg.from, segments: [leg.segment], closed: false };
          const points = flattenPath(single, tolerance);
          let worst = 0;
          for (let i = 0; i + 1 < points.length; i++) {
            for (const share of [0.25, 0.5, 0.75]) {
              const onCurve = curvePoint(single, (i + share) / (points.length - 1));
              worst = Math.max(worst, distanceToChord(onCurve, points[i]!, points[i + 1]!));
            }
            chords++;
          }
          expect(worst).toBeLessThan(tolerance + 1e-9);
        }
      }),
      { numRuns: 60, seed: 21 },
    );
    expect(chords).toBeGreaterThan(2000);
  });

  it("refuses a tolerance that no polygon can keep", () => {
    expect(() => flattenPath(circlePath({ x: 0, y: 0 }, 1), 0)).toThrow(RangeError);
  });
});

function curvePoint({ start, segments }: Path, share: number): Point {
  const segment = segments[0]!;
  if (segment.kind === "line")
    return {
      x: start.x + share * (segment.to.x - start.x),
      y: start.y + share * (segment.to.y - start.y),
    };
  if (segment.kind === "cubic") return cubicPoint(start, segment, share);
  expect(arcRadius(start, segment)).toBeGreaterThan(0);
  return arcPoint(start, segment, share);
}

function distanceToChord(p: Point, a: Point, b: Point): number {
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  const along = ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / (length * length);
  const clamped = Math.min(1, Math.max(0, along));
  return Math.hypot(p.x - a.x - clamped * (b.x - a.x), p.y - a.y - clamped * (b.y - a.y));
}
