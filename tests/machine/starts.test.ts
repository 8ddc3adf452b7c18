import { describe, expect, it } from "vitest";
import {
  circlePath,
  pathArea,
  pathEnd,
  pathLength,
  polylinePath,
} from "../../src/geometry/path.ts";
import type { Path, Point } from "../../src/geometry/types.ts";
import { begunAt, startsOn } from "../../src/machine/starts.ts";
import { rectangle } from "./samples.ts";

const points = (path: Path): Point[] => startsOn(path).map(({ point }) => point);

/** A drop: a half circle of 10 mm about 0,0, and straight to a tip on the left. */
const DROP: Path = {
  start: { x: -30, y: 0 },
  segments: [
    { kind: "line", to: { x: 0, y: -10 } },
    { kind: "arc", to: { x: 0, y: 10 }, centre: { x: 0, y: 0 }, sweepRad: Math.PI },
    { kind: "line", to: { x: -30, y: 0 } },
  ],
  closed: true,
};

/** 40 by 20 with corners of 5 mm, from the middle of nothing: all its joints are smooth. */
const ROUNDED: Path = {
  start: { x: 5, y: 0 },
  segments: [
    { kind: "line", to: { x: 35, y: 0 } },
    { kind: "arc", to: { x: 40, y: 5 }, centre: { x: 35, y: 5 }, sweepRad: Math.PI / 2 },
    { kind: "line", to: { x: 40, y: 15 } },
    { kind: "arc", to: { x: 35, y: 20 }, centre: { x: 35, y: 15 }, sweepRad: Math.PI / 2 },
    { kind: "line", to: { x: 5, y: 20 } },
    { kind: "arc", to: { x: 0, y: 15 }, centre: { x: 5, y: 15 }, sweepRad: Math.PI / 2 },
    { kind: "line", to: { x: 0, y: 5 } },
    { kind: "arc", to: { x: 5, y: 0 }, centre: { x: 5, y: 5 }, sweepRad: Math.PI / 2 },
  ],
  closed: true,
};

/** A regular polygon about 0,0. */
function ring(sides: number): Path {
  const [first, ...rest] = Array.from({ length: sides }, (_, side) => ({
    x: 50 * Math.cos((2 * Math.PI * side) / sides),
    y: 50 * Math.sin((2 * Math.PI * side) / sides),
  }));
  return polylinePath([first!, ...rest], true);
}

describe("startsOn", () => {
  it("begins at corners only, where there are any", () => {
    expect(points(rectangle(10, 20, 30, 40))).toEqual([
      { x: 10, y: 20 },
      { x: 40, y: 20 },
      { x: 40, y: 60 },
      { x: 10, y: 60 },
    ]);
    // Straight to the half circle and back the sides lean by atan(10/30) = 18.4 degrees: no corner.
    expect(points(DROP)).toEqual([{ x: -30, y: 0 }]);
  });

  it("takes no point of a polygon drawn for a curve for a corner", () => {
    expect(startsOn(ring(12))).toHaveLength(12);
    expect(startsOn(ring(40)).some(({ share }) => share > 0)).toBe(false);
    expect(startsOn(ring(40)).length).toBe(40);
  });

  it.each([49, 60, 100, 1000])("takes 48 of %d points, all along", (count) => {
    const starts = startsOn(ring(count));
    expect(starts).toHaveLength(48);
    const legs = starts.map(({ leg }) => leg);
    const steps = legs.map((leg, index) => (legs[index + 1] ?? count) - leg);
    expect(Math.max(...steps) - Math.min(...steps)).toBeLessThanOrEqual(1);
  });

  it.each([
    ["a small hole", circlePath({ x: 3, y: 4 }, 2), 8],
    ["a large disc", circlePath({ x: 3, y: 4 }, 200), 32],
    ["a rounded plate", ROUNDED, 8],
  ])("begins anywhere on %s, which has no corner", (_, path, fewest) => {
    const starts = startsOn(path);
    expect(starts.length).toBeGreaterThanOrEqual(fewest);
    expect(starts.length).toBeLessThanOrEqual(40);
    const apart = starts.map(({ point }, index) => {
      const next = starts[(index + 1) % starts.length]!.point;
      return Math.hypot(next.x - point.x, next.y - point.y);
    });
    expect(Math.max(...apart)).toBeLessThan(Math.max(8, pathLength(path) / 30));
  });
});

describe("begunAt", () => {
  it.each([
    ["a plate", rectangle(0, 0, 30, 20)],
    ["a drop", DROP],
    ["a rounded plate", ROUNDED],
    ["a disc", circlePath({ x: 7, y: 8 }, 9)],
  ])("runs the whole of %s from any start, and ends exactly there", (_, path) => {
    for (const start of startsOn(path)) {
      const begun = begunAt(path, start);
      expect(begun.start).toEqual(start.point);
      expect(pathEnd(begun)).toEqual(start.point);
      expect(begun.closed).toBe(true);
      expect(pathLength(begun)).toBeCloseTo(pathLength(path), 9);
      expect(pathArea(begun)).toBeCloseTo(pathArea(path), 9);
    }
  });
});
