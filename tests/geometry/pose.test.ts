import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { flattenPath } from "../../src/geometry/flatten.ts";
import { pathArea, pathLength } from "../../src/geometry/path.ts";
import { posePath, posePoint, poseRegion, poseRing } from "../../src/geometry/pose.ts";
import { ringArea } from "../../src/geometry/ring.ts";
import type { Pose } from "../../src/geometry/types.ts";
import { closedPath, point } from "./paths.ts";

const pose: fc.Arbitrary<Pose> = fc.record({
  mirrored: fc.boolean(),
  turnDeg: fc.integer({ min: -720, max: 720 }),
  xMm: fc.integer({ min: -500, max: 500 }),
  yMm: fc.integer({ min: -500, max: 500 }),
});

describe("posing", () => {
  it("mirrors, then turns, then moves, as worked by hand", () => {
    const point = { x: 3, y: 1 };
    const still = { mirrored: false, turnDeg: 0, xMm: 0, yMm: 0 };
    expect(posePoint({ ...still, mirrored: true }, point)).toEqual({ x: -3, y: 1 });
    expect(posePoint({ ...still, turnDeg: 90 }, point)).toEqual({ x: -1, y: 3 });
    expect(posePoint({ ...still, mirrored: true, turnDeg: 90 }, point)).toEqual({ x: -1, y: -3 });
    expect(posePoint({ mirrored: true, turnDeg: 90, xMm: 10, yMm: 20 }, point)).toEqual({
      x: 9,
      y: 17,
    });
  });

  it("leaves no dust at quarter turns, nor negative zeros", () => {
    for (const turnDeg of [-270, -90, 0, 90, 180, 270, 360, 450])
      for (const mirrored of [false, true]) {
        const { x, y } = posePoint({ mirrored, turnDeg, xMm: 0, yMm: 0 }, { x: 7, y: 0 });
        expect([Math.abs(x), Math.abs(y)].toSorted((a, b) => a - b)).toEqual([0, 7]);
        expect(Object.is(x, -0) || Object.is(y, -0)).toBe(false);
      }
  });

  it("keeps length and the size of areas; mirroring alone turns the sense round", () => {
    let mirroredCases = 0;
    fc.assert(
      fc.property(pose, closedPath, (pose, path) => {
        const posed = posePath(pose, path);
        const sign = pose.mirrored ? -1 : 1;
        expect(pathLength(posed) / pathLength(path)).toBeCloseTo(1, 9);
        expect(pathArea(posed) - sign * pathArea(path)).toBeCloseTo(0, 5);
        const points = flattenPath(path, 0.1);
        expect(ringArea(poseRing(pose, points)) - ringArea(points)).toBeCloseTo(0, 5);
        if (pose.mirrored) mirroredCases++;
      }),
      { numRuns: 120, seed: 31 },
    );
    expect(mirroredCases).toBeGreaterThan(30);
  });

  it("keeps the distance of any two points", () => {
    fc.assert(
      fc.property(pose, point, point, (pose, a, b) => {
        const [p, q] = [posePoint(pose, a), posePoint(pose, b)];
        expect(Math.hypot(p.x - q.x, p.y - q.y)).toBeCloseTo(Math.hypot(a.x - b.x, a.y - b.y), 9);
      }),
      { numRuns: 200, seed: 32 },
    );
  });

  it("keeps a mirrored region's outer ring counter-clockwise and its holes clockwise", () => {
    const outer = [
      { x: 0, y: 0 },
      { x: 9, y: 0 },
      { x: 9, y: 9 },
    ];
    const hole = [
      { x: 5, y: 1 },
      { x: 5, y: 2 },
      { x: 6, y: 1 },
    ];
    const posed = poseRegion(
      { mirrored: true, turnDeg: 30, xMm: 1, yMm: 2 },
      { outer, holes: [hole] },
    );
    expect(ringArea(posed.outer)).toBeCloseTo(40.5, 12);
    expect(ringArea(posed.holes[0]!)).toBeCloseTo(-0.5, 12);
  });
});
