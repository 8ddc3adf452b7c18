import * as fc from "fast-check";
import polygonClipping, { type Polygon } from "polygon-clipping";
import { describe, expect, it } from "vitest";
import type { Point, Ring } from "../../../src/geometry/types.ts";
import { convexParts } from "../../../src/nesting/convex.ts";
import { GrownParts } from "../../../src/nesting/grown.ts";
import { noFitOf } from "../../../src/nesting/no-fit.ts";
import { OverlapField } from "../../../src/nesting/separation/overlap-field.ts";
import { box, ring } from "../pieces.ts";

/**
 * What a depth says, against polygon-clipping 0.15: where it is zero the outlines have no area in
 * common, else they have; moved by the way out they have none, and less of a move in no direction
 * parts them. By definition of the penetration depth.
 */

const size = fc.integer({ min: 8, max: 60 });
const share = fc.integer({ min: 20, max: 80 }).map((percent) => percent / 100);
const hook = fc
  .tuple(size, size, share, share)
  .map(([w, h, a, b]) => ring([0, 0], [w, 0], [w, h * b], [w * a, h * b], [w * a, h], [0, h]));
const star = fc.tuple(size, fc.array(share, { minLength: 3, maxLength: 14 })).map(([w, radii]) =>
  radii.map((radius, i): Point => {
    const angle = (2 * Math.PI * i) / radii.length;
    return { x: w * radius * Math.cos(angle), y: w * radius * Math.sin(angle) };
  }),
);
const rectangle = fc.tuple(size, size).map(([w, h]) => box(w, h));
const outline = fc.oneof(rectangle, hook, star);
const seen = fc.record({
  turnDeg: fc.constantFrom(0, 90, 180, 33, 271.5),
  mirrored: fc.boolean(),
});

/** Shares of the box of the no-fit region. */
const inside = fc.integer({ min: 1, max: 999 }).map((thousandths) => thousandths / 1000);
const places = fc.array(fc.tuple(inside, inside), { minLength: 6, maxLength: 6 });

interface Turned {
  readonly turnDeg: number;
  readonly mirrored: boolean;
}

function grown(outer: Ring, turned: Turned): GrownParts {
  return new GrownParts(convexParts({ outer, holes: [] }), turned, 0);
}

function fieldOf(a: Ring, b: Ring, pose: Turned, cells = 48) {
  const noFit = noFitOf(grown(a, { turnDeg: 0, mirrored: false }), grown(b, pose));
  return { noFit, field: new OverlapField(noFit, cells) };
}

function laid(outer: Ring, { turnDeg, mirrored }: Turned): Ring {
  const angle = (turnDeg * Math.PI) / 180;
  return outer.map(({ x, y }) => {
    const across = mirrored ? -x : x;
    return {
      x: across * Math.cos(angle) - y * Math.sin(angle),
      y: across * Math.sin(angle) + y * Math.cos(angle),
    };
  });
}

function snapped(outer: Ring, dx: number, dy: number): Polygon {
  return [
    outer.map((point) => [
      Math.round((point.x + dx) * 1e6) / 1e6,
      Math.round((point.y + dy) * 1e6) / 1e6,
    ]),
  ];
}

/** In common, mm2, on a grid that costs a sliver along each edge; null where the library gives up. */
function common(a: Ring, b: Ring, x: number, y: number): number | null {
  try {
    return polygonClipping
      .intersection(snapped(a, 0, 0), snapped(b, x, y))
      .flat()
      .reduce((sum, points) => {
        const signed = points.reduce((area, [px, py], i) => {
          const [qx, qy] = points[(i + 1) % points.length]!;
          return area + (px * qy - qx * py) / 2;
        }, 0);
        return sum + signed;
      }, 0);
  } catch {
    return null;
  }
}

const SLIVER_MM2 = 2e-3;

describe("how deep outlines overlap", () => {
  it("is zero where they have nothing in common, and else the shortest move that parts them", () => {
    const counted = { apart: 0, overlapping: 0 };
    fc.assert(
      fc.property(outline, outline, seen, places, (a, b, pose, shares) => {
        const { noFit, field } = fieldOf(a, b, pose);
        const moving = laid(b, pose);
        for (const [across, along] of shares) {
          const x = noFit.minX + across * (noFit.maxX - noFit.minX);
          const y = noFit.minY + along * (noFit.maxY - noFit.minY);
          const depth = field.depthAndWayOut(x, y);
          const found = common(a, moving, x, y);
          if (found === null) continue;
          expect(found < SLIVER_MM2 || depth > 0).toBe(true);
          if (depth === 0) {
            counted.apart++;
            continue;
          }
          counted.overlapping++;
          const [wayX, wayY] = [field.wayX, field.wayY];
          expect(Math.hypot(wayX, wayY)).toBeCloseTo(depth, 9);
          expect(common(a, moving, x + wayX, y + wayY) ?? 0).toBeLessThan(SLIVER_MM2);
          for (let step = 0; step < 12; step++) {
            const angle = (2 * Math.PI * step) / 12;
            const [dx, dy] = [0.9 * depth * Math.cos(angle), 0.9 * depth * Math.sin(angle)];
            const left = common(a, moving, x + dx, y + dy) ?? 1;
            // What lies on the rim leaves less than the grid can see.
            expect(left > 0 || depth < 0.1).toBe(true);
          }
        }
      }),
      { seed: 21, numRuns: 120 },
    );
    expect(counted.apart).toBeGreaterThan(100);
    expect(counted.overlapping).toBeGreaterThan(200);
  });

  it("is the same however fine the cells are, but for what is read off deep inside", () => {
    let compared = 0;
    fc.assert(
      fc.property(outline, outline, seen, places, (a, b, pose, shares) => {
        const { noFit, field } = fieldOf(a, b, pose, 8);
        const { field: fine } = fieldOf(a, b, pose, 96);
        const sizeMm = Math.max(noFit.maxX - noFit.minX, noFit.maxY - noFit.minY);
        for (const [across, along] of shares) {
          const x = noFit.minX + across * (noFit.maxX - noFit.minX);
          const y = noFit.minY + along * (noFit.maxY - noFit.minY);
          expect(field.depthAndWayOut(x, y)).toBeCloseTo(fine.depthAndWayOut(x, y), 9);
          expect(Math.abs(field.depth(x, y) - fine.depthAndWayOut(x, y))).toBeLessThan(sizeMm / 8);
          expect(fine.depth(x, y) === 0).toBe(field.depth(x, y) === 0);
          compared++;
        }
      }),
      { seed: 22, numRuns: 100 },
    );
    expect(compared).toBe(600);
  });

  it("knows a slot as wide as its tab as free, and both sides of it as not (derived)", () => {
    const slotted = ring([0, 0], [30, 0], [30, 20], [20, 20], [20, 5], [10, 5], [10, 20], [0, 20]);
    const { field } = fieldOf(slotted, box(10, 15), { turnDeg: 0, mirrored: false });
    expect(field.depth(10, 5)).toBe(0);
    expect(field.depth(10, 12)).toBeLessThan(1e-12);
    expect(field.depth(10.5, 10)).toBeCloseTo(0.5, 9);
    expect(field.depth(9.5, 10)).toBeCloseTo(0.5, 9);
    expect(field.depth(10, 4)).toBeCloseTo(1, 9);
    expect(field.isWithin(10.5, 10, 0.4)).toBe(true);
    expect(field.isWithin(10, 12, 1e-9)).toBe(false);
  });
});
