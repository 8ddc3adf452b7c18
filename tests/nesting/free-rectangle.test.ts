import * as fc from "fast-check";
import clipping, { type Polygon } from "polygon-clipping";
import { describe, expect, it } from "vitest";
import { poseRegion } from "../../src/geometry/pose.ts";
import type { Box, Region, Ring } from "../../src/geometry/types.ts";
import { clearanceFault, solidOf, type Solid } from "../../src/nesting/check-clearance.ts";
import { edgeRows } from "../../src/nesting/check-edges.ts";
import { CLOSE, freeRectangle } from "../../src/nesting/free-rectangle.ts";
import { FreeStrips, type Obstacle } from "../../src/nesting/free-strips.ts";
import { box, ring } from "./pieces.ts";

/** Against every rectangle of a grid, the judge's distances and a polygon library's intersections. */

const SHEET: Box = { minX: 0, minY: 0, maxX: 48, maxY: 32 };

function areaOf({ minX, minY, maxX, maxY }: Box): number {
  return (maxX - minX) * (maxY - minY);
}

function solid({ outer, holes }: Region): Solid {
  const edges = [outer, ...holes].flatMap((all) =>
    all.flatMap((from, index) => {
      const to = all[(index + 1) % all.length]!;
      return [from.x, from.y, to.x, to.y];
    }),
  );
  return solidOf(edgeRows(Float64Array.from(edges)), 0, 0);
}

function asRing({ minX, minY, maxX, maxY }: Box): Ring {
  return box(maxX - minX, maxY - minY, minX, minY);
}

/** The area of the largest free rectangle of whole cells of 1 mm, by trying all. */
function bruteArea(sheet: Box, isFree: (cell: Box) => boolean, least: number): number {
  const [wide, high] = [sheet.maxX - sheet.minX, sheet.maxY - sheet.minY];
  const blocked = Array.from({ length: wide + 1 }, () => Array.from({ length: high + 1 }, () => 0));
  for (let x = 0; x < wide; x++) {
    for (let y = 0; y < high; y++) {
      const cell = { minX: x, minY: y, maxX: x + 1, maxY: y + 1 };
      blocked[x + 1]![y + 1] =
        blocked[x]![y + 1]! + blocked[x + 1]![y]! - blocked[x]![y]! + (isFree(cell) ? 0 : 1);
    }
  }
  let best = 0;
  for (let x = 0; x < wide; x++) {
    for (let toX = x + least; toX <= wide; toX++) {
      for (let y = 0; y < high; y++) {
        for (let toY = y + least; toY <= high; toY++) {
          if ((toX - x) * (toY - y) <= best) continue;
          const inside =
            blocked[toX]![toY]! - blocked[x]![toY]! - blocked[toX]![y]! + blocked[x]![y]!;
          if (inside === 0) best = (toX - x) * (toY - y);
        }
      }
    }
  }
  return best;
}

/** Within the piece grown by the distance: around each edge a box and two rings of 32 corners. */
function grown({ outer, holes }: Region, mm: number): readonly Polygon[] {
  const polygon: Polygon = [outer, ...holes].map((all) => all.map(({ x, y }) => [x, y]));
  if (mm === 0) return [polygon];
  const around = [outer, ...holes].flatMap((all) =>
    all.flatMap((from, index): Polygon[] => {
      const to = all[(index + 1) % all.length]!;
      const length = Math.hypot(to.x - from.x, to.y - from.y);
      if (length === 0) return [];
      const [x, y] = [((to.y - from.y) / length) * mm, (-(to.x - from.x) / length) * mm];
      const disc = Array.from({ length: 32 }, (_, step): [number, number] => {
        const angle = (step * Math.PI) / 16;
        return [from.x + mm * Math.cos(angle), from.y + mm * Math.sin(angle)];
      });
      const beside: [number, number][] = [
        [from.x + x, from.y + y],
        [to.x + x, to.y + y],
        [to.x - x, to.y - y],
        [from.x - x, from.y - y],
      ];
      return [[disc], [beside]];
    }),
  );
  return [polygon, ...around];
}

function rounded(mm: number): number {
  return Math.round(mm * 1e6) / 1e6;
}

/** mm2 of the rectangle that the polygon covers; the library stumbles over dust of 1e-16. */
function covered(rectangle: Box, polygon: Polygon): number {
  const corners = asRing(rectangle).map(({ x, y }): [number, number] => [rounded(x), rounded(y)]);
  const rings = polygon.map((all) =>
    all.map(([x, y]): [number, number] => [rounded(x), rounded(y)]),
  );
  return clipping
    .intersection([corners], rings)
    .flat()
    .reduce((sum, found) => sum + Math.abs(shoelace(found)), 0);
}

function shoelace(points: readonly (readonly [number, number])[]): number {
  return points.reduce((sum, [x, y], index) => {
    const [nextX, nextY] = points[(index + 1) % points.length]!;
    return sum + (x * nextY - nextX * y) / 2;
  }, 0);
}

/** A ring about 0,0, its corners by angle and distance: convex, starlike or needle-thin. */
const outlines = fc.oneof(
  fc.array(fc.integer({ min: 2, max: 12 }), { minLength: 3, maxLength: 9 }).map((radii) =>
    radii.map((radius, index) => {
      const angle = (2 * Math.PI * index) / radii.length;
      return { x: radius * Math.cos(angle), y: radius * Math.sin(angle) };
    }),
  ),
  fc.integer({ min: 3, max: 25 }).map((long) => ring([0, 0], [long, 0.1], [0, 0.2])),
  fc
    .tuple(fc.integer({ min: 1, max: 20 }), fc.integer({ min: 1, max: 20 }))
    .map(([w, h]) => box(w, h)),
);

const regions = fc.oneof(
  outlines.map((outer): Region => ({ outer, holes: [] })),
  fc.integer({ min: 8, max: 20 }).map((side): Region => ({
    outer: box(side, side),
    holes: [box(side - 2, side - 3, 1, 1).toReversed()],
  })),
);

const obstacles = fc
  .record({
    region: regions,
    keepMm: fc.constantFrom(0, 0.5, 1, 3),
    mirrored: fc.boolean(),
    turnDeg: fc.constantFrom(0, 90, 180, 17, 45, 123.4),
    xMm: fc.integer({ min: -3, max: 50 }),
    yMm: fc.integer({ min: -3, max: 35 }),
  })
  .map(({ region, keepMm, ...pose }): Obstacle => ({ region: poseRegion(pose, region), keepMm }));

describe("the largest free rectangle", () => {
  it("is no smaller than any of a grid, and free by the judge and by polygon-clipping", () => {
    let [found, none, smaller] = [0, 0, 0];
    const some = fc.array(obstacles, { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(some, fc.integer({ min: 1, max: 22 }), (all, least) => {
        const free = freeRectangle(all, SHEET, least);
        const solids = all.map(({ region, keepMm }) => ({ one: solid(region), keepMm }));
        const isFree = (cell: Box): boolean => {
          const its = solid({ outer: asRing(cell), holes: [] });
          return solids.every(({ one, keepMm }) => clearanceFault(one, its, keepMm) === null);
        };
        const brute = bruteArea(SHEET, isFree, least);
        expect(free === null ? 0 : areaOf(free)).toBeGreaterThanOrEqual(brute * (1 - CLOSE));
        if (free === null) {
          none++;
          return;
        }
        if (brute < areaOf(free)) smaller++;
        expect(Math.min(free.maxX - free.minX, free.maxY - free.minY)).toBeGreaterThanOrEqual(
          least,
        );
        expect(free.minX >= 0 && free.minY >= 0 && free.maxX <= 48 && free.maxY <= 32).toBe(true);
        expect(isFree(free)).toBe(true);
        for (const { region, keepMm } of all)
          for (const polygon of grown(region, keepMm))
            expect(covered(free, polygon)).toBeLessThan(1e-4);
        found++;
      }),
      { seed: 11, numRuns: 150 },
    );
    expect(found).toBeGreaterThan(100);
    expect(smaller).toBeGreaterThan(50);
    expect(none).toBeGreaterThan(5);
  }, 30_000);

  it("is exact among boxes, where all that counts are their sides", () => {
    let judged = 0;
    const plain = fc.record({
      x: fc.integer({ min: 0, max: 40 }),
      y: fc.integer({ min: 0, max: 25 }),
      w: fc.integer({ min: 1, max: 20 }),
      h: fc.integer({ min: 1, max: 20 }),
    });
    fc.assert(
      fc.property(fc.array(plain, { maxLength: 7 }), (rows) => {
        const all = rows.map(({ x, y, w, h }) => ({
          region: { outer: box(w, h, x, y), holes: [] },
          keepMm: 0,
        }));
        const isFree = ({ minX, minY }: Box): boolean =>
          rows.every(
            ({ x, y, w, h }) => minX >= x + w || minX + 1 <= x || minY >= y + h || minY + 1 <= y,
          );
        const free = freeRectangle(all, SHEET, 1);
        const brute = bruteArea(SHEET, isFree, 1);
        expect(free === null ? 0 : areaOf(free)).toBeLessThanOrEqual(brute + 1e-9);
        expect(free === null ? 0 : areaOf(free)).toBeGreaterThanOrEqual(brute * (1 - CLOSE));
        judged++;
      }),
      { seed: 3, numRuns: 100 },
    );
    expect(judged).toBe(100);
  });

  it("lies between slanted sides where the product of its own is greatest", () => {
    // Under a slope from 0,30 to 40,0: half of each, 20 x 15 (derivative of x (30 - 3/4 x)).
    const slope = { region: { outer: ring([0, 30], [40, 0], [40, 30]), holes: [] }, keepMm: 0 };
    const free = freeRectangle([slope], { minX: 0, minY: 0, maxX: 40, maxY: 30 }, 1)!;
    expect(areaOf(free)).toBeGreaterThan(300 * (1 - CLOSE));
    expect(areaOf(free)).toBeLessThanOrEqual(300);
  });

  it("is the whole box where nothing lies, and may lie in a hole", () => {
    expect(freeRectangle([], SHEET, 5)).toEqual(SHEET);
    expect(freeRectangle([], SHEET, 32.1)).toBeNull();
    const frame = { outer: box(48, 32), holes: [box(40, 20, 4, 4).toReversed()] };
    expect(freeRectangle([{ region: frame, keepMm: 2 }], SHEET, 1)).toEqual({
      minX: 6,
      minY: 6,
      maxX: 42,
      maxY: 22,
    });
  });

  it("is to be found where it is narrower than the strips it is looked for in, to the hair", () => {
    const all = [box(21.3, 32), box(25, 32, 23.2)].map((outer) => ({
      region: { outer, holes: [] },
      keepMm: 0,
    }));
    const slot = { minX: 21.3, minY: 0, maxX: 23.2, maxY: 32 };
    expect(freeRectangle(all, SHEET, 1)).toEqual(slot);
    expect(freeRectangle(all, SHEET, 2)).toBeNull();
  });

  it("is found among 500 pieces of 100 corners, in the one row that has a place left", () => {
    const all = Array.from({ length: 500 }, (_, index): Obstacle => {
      const [column, row] = [index % 25, Math.floor(index / 25)];
      const [x, y] = [40 + 75 * column, 40 + 70 * row + (row > 12 ? 50 : 0)];
      const outer = Array.from({ length: 100 }, (__, step) => {
        const angle = (2 * Math.PI * step) / 100;
        return { x: x + 30 * Math.cos(angle), y: y + 30 * Math.sin(angle) };
      });
      return { region: { outer, holes: [] }, keepMm: 3 };
    });
    const bed = { minX: 5, minY: 5, maxX: 1880, maxY: 1490 };
    const free = freeRectangle(all, bed, 1)!;
    // Rows 12 and 13 lie 120 apart: 60 less the gap to both.
    expect(free.minY).toBeCloseTo(40 + 70 * 12 + 33, 6);
    expect(free.maxY).toBeCloseTo(free.minY + 54, 6);
    expect([free.minX, free.maxX]).toEqual([5, 1880]);
  });
});

describe("what is free in a strip", () => {
  it("is free at every distance across it, and nothing else is", () => {
    let [free, forbidden] = [0, 0];
    const strips = fc.record({ left: fc.integer({ min: 0, max: 40 }), wide: fc.nat(8) });
    fc.assert(
      fc.property(fc.array(obstacles, { minLength: 1, maxLength: 3 }), strips, (all, strip) => {
        const [left, right] = [strip.left, strip.left + Math.max(0.5, strip.wide)];
        const upright = new FreeStrips(all, SHEET, "upright");
        const gaps = upright.gaps(left, right, upright.edgesIn(left, right));
        const solids = all.map(({ region, keepMm }) => ({ one: solid(region), keepMm }));
        for (let minY = 0.05; minY < 32; minY += 0.3) {
          // A line across the strip, as thin as the judge sees it.
          const line = box(right - left - 2e-4, 1e-4, left + 1e-4, minY);
          const its = solid({ outer: line, holes: [] });
          const clear = (mm: number): boolean =>
            solids.every(({ one, keepMm }) => clearanceFault(one, its, keepMm + mm) === null);
          const inGap = gaps.some((low, i) => i % 2 === 0 && low < minY && minY < gaps[i + 1]!);
          expect(clear(inGap ? -1e-3 : 1e-3)).toBe(inGap);
          if (inGap) free++;
          else forbidden++;
        }
      }),
      { seed: 8, numRuns: 200 },
    );
    expect(free).toBeGreaterThan(2000);
    expect(forbidden).toBeGreaterThan(2000);
  });
});
