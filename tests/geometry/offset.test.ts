import { Point as FlatPoint, Polygon } from "@flatten-js/core";
import { assert, double, integer, property } from "fast-check";
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readPartGeometry } from "../../src/drawing/parts.ts";
import { firstCrossing } from "../../src/geometry/crossing.ts";
import { flattenPath } from "../../src/geometry/flatten.ts";
import { offsetPath } from "../../src/geometry/offset.ts";
import {
  circlePath,
  pathArea,
  pathBounds,
  pathLength,
  polylinePath,
  reversePath,
} from "../../src/geometry/path.ts";
import type { Path, Point, Segment } from "../../src/geometry/types.ts";
import { rule } from "../drawing/reading.ts";

function polygon(...points: readonly (readonly [number, number])[]): Path {
  const [first, ...rest] = points.map(([x, y]) => ({ x, y }));
  if (first === undefined) throw new RangeError("no points");
  return polylinePath([first, ...rest], true);
}

function moved(path: Path, mm: number): Path {
  const result = offsetPath(path, mm);
  if (result === null) throw new RangeError("nothing remains");
  return result;
}

describe("a path moved by half the kerf", () => {
  it("cuts a 40 mm square and a 40 mm hole as a service's worked example has it", () => {
    // Service help page: drawn 40 mm, kerf 0.2 mm, a square comes out 39.8 and a hole 40.2; to get
    // 40 and 40 the outline is drawn 40.2 and the hole 39.8.
    const square = polygon([0, 0], [40, 0], [40, 40], [0, 40]);
    const outline = pathBounds(moved(square, 0.1));
    const hole = pathBounds(moved(reversePath(square), 0.1));
    expect(outline.maxX - outline.minX).toBeCloseTo(40.2, 9);
    expect(outline.maxY - outline.minY).toBeCloseTo(40.2, 9);
    expect(hole.maxX - hole.minX).toBeCloseTo(39.8, 9);
    expect(hole.maxY - hole.minY).toBeCloseTo(39.8, 9);
  });

  it("cuts a 2 x 4 part and a 2 x 4 hole as a service's worked example has it", () => {
    // Service kerf page: kerf 0.2; a part of 2.0 x 4.0 is drawn 2.2 x 4.2, a hole 1.8 x 3.8.
    const drawn = polygon([0, 0], [2, 0], [2, 4], [0, 4]);
    expect(pathArea(moved(drawn, 0.1))).toBeCloseTo(2.2 * 4.2, 9);
    expect(pathArea(moved(reversePath(drawn), 0.1))).toBeCloseTo(-1.8 * 3.8, 9);
  });

  it("keeps circles circles and rounds grow with their corners", () => {
    const disc = circlePath({ x: 7, y: -3 }, 10);
    expect(moved(disc, 0.15).segments.map(({ kind }) => kind)).toEqual(["arc", "arc"]);
    expect(pathLength(moved(disc, 0.15))).toBeCloseTo(2 * Math.PI * 10.15, 9);
    expect(pathArea(moved(reversePath(disc), 0.15))).toBeCloseTo(-Math.PI * 9.85 ** 2, 9);
  });

  it("keeps curves curves, within its tolerance", () => {
    // A quarter ellipse and two lines; the offset of a smooth convex curve grows by
    // length * distance + pi * distance^2 less what the corners say (Steiner's formula).
    const blob: Path = {
      start: { x: 30, y: 0 },
      closed: true,
      segments: [
        {
          kind: "cubic",
          control1: { x: 30, y: 16 },
          control2: { x: 16, y: 20 },
          to: { x: 0, y: 20 },
        },
        {
          kind: "cubic",
          control1: { x: -16, y: 20 },
          control2: { x: -30, y: 16 },
          to: { x: -30, y: 0 },
        },
        {
          kind: "cubic",
          control1: { x: -30, y: -16 },
          control2: { x: -16, y: -20 },
          to: { x: 0, y: -20 },
        },
        {
          kind: "cubic",
          control1: { x: 16, y: -20 },
          control2: { x: 30, y: -16 },
          to: { x: 30, y: 0 },
        },
      ],
    };
    const out = moved(blob, 0.2);
    expect(out.segments.every(({ kind }) => kind === "cubic")).toBe(true);
    const steiner = pathArea(blob) + 0.2 * pathLength(blob) + Math.PI * 0.04;
    expect(Math.abs(pathArea(out) - steiner)).toBeLessThan(0.002 * pathLength(blob));
  });

  it("leaves out what the move uses up", () => {
    // A 0.1 mm fillet in an inner corner is less than the distance: the lines meet instead.
    const filleted: Path = {
      start: { x: 0, y: 0 },
      closed: true,
      segments: [
        { kind: "line", to: { x: 20, y: 0 } },
        { kind: "line", to: { x: 20, y: 10 } },
        { kind: "line", to: { x: 10.1, y: 10 } },
        {
          kind: "arc",
          to: { x: 10, y: 10.1 },
          centre: { x: 10.1, y: 10.1 },
          sweepRad: -Math.PI / 2,
        },
        { kind: "line", to: { x: 10, y: 20 } },
        { kind: "line", to: { x: 0, y: 20 } },
        { kind: "line", to: { x: 0, y: 0 } },
      ],
    };
    const out = moved(filleted, 0.2);
    expect(pathArea(out)).toBeCloseTo(20.4 * 20.4 - 10 * 10, 9);
    expect(out.segments.every(({ kind }) => kind === "line")).toBe(true);
  });

  it("says when nothing simple remains", () => {
    const nook = polygon([0, 0], [40, 0], [40, 20], [20.05, 20], [20, 10], [19.95, 20], [0, 20]);
    const slit = polygon([0, 0], [5, 0], [5, 0.15], [0, 0.15]);
    expect(offsetPath(nook, 0.1)).toBeNull();
    expect(offsetPath(reversePath(slit), 0.1)).toBeNull();
    expect(offsetPath(reversePath(circlePath({ x: 0, y: 0 }, 0.05)), 0.1)).toBeNull();
  });
});

/** Distances from samples of the one to the other, by @flatten-js/core. */
function distances(samples: readonly Point[], ring: readonly Point[]): number[] {
  const polygonOf = new Polygon(ring.map(({ x, y }) => new FlatPoint(x, y)));
  return samples.map(({ x, y }) => new FlatPoint(x, y).distanceTo(polygonOf)[0]);
}

describe("every point of a moved path", () => {
  it("lies the distance away from random polygons, at corners at most four times it", () => {
    let judged = 0;
    assert(
      property(
        integer({ min: 3, max: 9 }),
        double({ min: 0.05, max: 0.5, noNaN: true }),
        integer({ min: 0, max: 2 ** 30 }),
        (corners, mm, seed) => {
          const star = starOf(corners, seed);
          for (const path of [star, reversePath(star)]) {
            const result = offsetPath(path, mm);
            if (result === null) continue;
            const away = distances(flattenPath(result, 0.01), flattenPath(path, 0.01));
            expect(Math.min(...away)).toBeGreaterThan(mm - 0.003);
            expect(Math.max(...away)).toBeLessThan(4 * mm + 0.003);
            expect(pathArea(result)).toBeGreaterThan(pathArea(path));
            judged++;
          }
        },
      ),
      { numRuns: 60, seed: 11 },
    );
    expect(judged).toBeGreaterThan(110);
  });

  it("lies the distance away from drawings with curves, notches and slots", () => {
    const folder = "demo-data/marsh-birds/drawings/";
    const names = [
      "heron.svg#outline-1",
      "avocet.svg#outline-2",
      "curlew.svg#outline-1",
      "reed.svg#outline-1",
      "cap-plate.svg#outline-1",
    ];
    const contours = names.flatMap((written) => {
      const [path = "", id = ""] = written.split("#");
      const text = { name: path, text: readFileSync(folder + path, "utf8"), sha256: "" };
      const { value } = readPartGeometry(
        [partOf(path, id)],
        [text],
        [rule("class", "scored", "score"), rule("class", "engraved", "engrave")],
      );
      return (value ?? []).flatMap(({ outline, holes }) => [outline, ...holes]);
    });
    expect(contours.length).toBeGreaterThan(12);
    for (const contour of contours) {
      const result = moved(contour, 0.1);
      const [was, is] = [flattenPath(contour, 0.005), flattenPath(result, 0.005)];
      const away = distances(is, was);
      expect(Math.min(...away)).toBeGreaterThan(0.1 - 0.01);
      expect(Math.max(...away)).toBeLessThan(0.41);
      // Nothing of the path is left without a moved line beside it.
      expect(Math.max(...distances(was, is))).toBeLessThan(0.6);
    }
  });
});

describe("small contours of curves", () => {
  it("are moved all round or not at all", () => {
    let moved = 0;
    let refused = 0;
    assert(
      property(
        integer({ min: 2, max: 7 }),
        double({ min: 0.4, max: 3, noNaN: true }),
        double({ min: 0.05, max: 0.2, noNaN: true }),
        integer({ min: 0, max: 2 ** 30 }),
        (legs, radius, mm, seed) => {
          const drawn = curvesOf(legs, radius, seed);
          const was = flattenPath(drawn, 0.001);
          if (firstCrossing([was]) !== null) return;
          for (const path of [drawn, reversePath(drawn)]) {
            const result = offsetPath(path, mm);
            if (result === null) {
              refused++;
              continue;
            }
            const away = distances(flattenPath(result, 0.001), was);
            expect(Math.min(...away)).toBeGreaterThan(mm - 0.01);
            expect(Math.max(...away)).toBeLessThan(4 * mm + 0.01);
            moved++;
          }
        },
      ),
      { numRuns: 400, seed: 23 },
    );
    expect(moved).toBeGreaterThan(300);
    expect(refused).toBeGreaterThan(5);
  });
});

/** Cubics and arcs from corner to corner about 0,0, counter-clockwise. */
function curvesOf(legs: number, radius: number, seed: number): Path {
  const random = (salt: number): number =>
    fraction(Math.sin(seed * 0.001 + salt * 12.9898) * 43758.5453);
  const corners = Array.from({ length: legs }, (_, index): Point => {
    const angle = ((index + 0.7 * random(index)) * 2 * Math.PI) / legs;
    const away = radius * (0.5 + random(index + 50));
    return { x: away * Math.cos(angle), y: away * Math.sin(angle) };
  });
  const [start = { x: 0, y: 0 }] = corners;
  const segments = corners.map((from, index): Segment => {
    const to = corners[(index + 1) % legs] ?? start;
    if (random(index + 100) < 0.3) return { kind: "line", to };
    const out = (share: number, salt: number): Point => {
      const bulge = radius * (1.2 * random(index + salt) - 0.4);
      const [dx, dy] = [to.x - from.x, to.y - from.y];
      const length = Math.hypot(dx, dy);
      return {
        x: from.x + share * dx + (bulge * dy) / length,
        y: from.y + share * dy - (bulge * dx) / length,
      };
    };
    return { kind: "cubic", control1: out(0.3, 200), control2: out(0.7, 300), to };
  });
  return { start, segments, closed: true };
}

/** A star-shaped polygon about 0,0 with radii from 5 to 25 mm. */
function starOf(corners: number, seed: number): Path {
  const points = Array.from({ length: corners }, (_, index) => {
    const radius = 5 + 20 * fraction(seed * 0.61803398875 + index * 0.7548776662);
    const angle = ((index + 0.6 * fraction(seed * 0.569840291 + index)) * 2 * Math.PI) / corners;
    return [radius * Math.cos(angle), radius * Math.sin(angle)] as const;
  });
  return polygon(...points);
}

function fraction(value: number): number {
  return value - Math.floor(value);
}

function partOf(path: string, id: string): Parameters<typeof readPartGeometry>[0][number] {
  return {
    name: path,
    quantity: 1,
    material: "acrylic cast",
    thicknessMm: 3,
    form: { kind: "drawing", path, id },
    turn: "any",
    flip: false,
    finish: null,
    spare: null,
    note: "",
    place: { file: "parts.csv", line: 2, column: null },
  };
}
