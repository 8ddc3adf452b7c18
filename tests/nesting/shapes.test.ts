import * as fc from "fast-check";
import polygonClipping, { type Polygon } from "polygon-clipping";
import { describe, expect, it } from "vitest";
import type { Box, Point, Ring } from "../../src/geometry/types.ts";
import { convexParts } from "../../src/nesting/convex.ts";
import { convexSum } from "../../src/nesting/convex-sum.ts";
import { GrowingRegion } from "../../src/nesting/growing.ts";
import { cleanRing } from "../../src/nesting/simplify.ts";
import { box, piece, ring, shapesFor } from "./pieces.ts";

function disc(corners: number, radius = 50): Ring {
  return Array.from({ length: corners }, (_, i) => {
    const angle = (2 * Math.PI * i) / corners;
    return { x: radius * Math.cos(angle), y: radius * Math.sin(angle) };
  });
}

function area(points: readonly Point[]): number {
  return points.reduce((sum, { x, y }, i) => {
    const next = points[(i + 1) % points.length]!;
    return sum + (x * next.y - next.x * y) / 2;
  }, 0);
}

function polygon(...rings: readonly (readonly Point[])[]): Polygon {
  return rings.map((each) => each.map(({ x, y }) => [x, y]));
}

function flat(points: Ring): Float64Array {
  return Float64Array.from(points.flatMap(({ x, y }) => [x, y]));
}

/** A quarter round of radius 5, nine points. */
function corner(x: number, y: number, fromDeg: number): readonly Point[] {
  return Array.from({ length: 9 }, (_, i): Point => {
    const angle = ((fromDeg + (i * 90) / 8) * Math.PI) / 180;
    return { x: x + 5 * Math.cos(angle), y: y + 5 * Math.sin(angle) };
  });
}

function grownRing(outer: Ring, mostMm: number, enough: number, within: Box): Ring {
  const growing = new GrowingRegion({ outer, holes: [] }, within);
  growing.grow({ mostMm, enough });
  return growing.region().outer;
}

function turnsOf(outer: Ring, turn: "any" | "quarter", flip = false, flatteningMm = 0) {
  return shapesFor(piece("p", outer, { turn, flip, flatteningMm }))[0]!.turns;
}

const star = fc
  .array(fc.integer({ min: 20, max: 100 }), { minLength: 3, maxLength: 60 })
  .map((radii) =>
    radii.map((radius, i): Point => {
      const angle = (2 * Math.PI * i) / radii.length;
      return { x: radius * Math.cos(angle), y: radius * Math.sin(angle) };
    }),
  );

describe("convex parts", () => {
  it("add up to the region, and each turns left all the way", () => {
    let judged = 0;
    fc.assert(
      fc.property(star, fc.boolean(), (outer, holed) => {
        const hole = box(6, 4, -3, -2).toReversed();
        const region = { outer, holes: holed ? [hole] : [] };
        const parts = convexParts(region);
        const sum = parts.reduce((total, part) => total + area(part), 0);
        expect(sum).toBeCloseTo(area(outer) - (holed ? 24 : 0), 6);
        for (const part of parts)
          for (const [i, a] of part.entries()) {
            const [b, c] = [part[(i + 1) % part.length]!, part[(i + 2) % part.length]!];
            const turn = (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x);
            expect(turn).toBeGreaterThanOrEqual(-1e-9);
          }
        judged++;
      }),
      { seed: 5, numRuns: 150 },
    );
    expect(judged).toBe(150);
  });

  it("leave convex outlines whole, and stand in with the hull where lines cross", () => {
    expect(convexParts({ outer: disc(40), holes: [] })).toHaveLength(1);
    const bow = ring([0, 0], [10, 10], [10, 0], [0, 10]);
    expect(convexParts({ outer: bow, holes: [] }).map(area)).toEqual([100]);
    // Crosses itself so that its triangles add up to its area by chance (found by random trial).
    const tangle = ring(
      [9, 7],
      [14, 18],
      [2, 17],
      [12, 14],
      [13, 12],
      [7, 10],
      [18, 2],
      [9, 13],
      [2, 18],
    );
    expect(convexParts({ outer: tangle, holes: [] })).toHaveLength(1);
  });

  it("sum like Minkowski: area of a square and a rectangle is that of the sum of their sides", () => {
    const sum = convexSum(flat(box(3, 5)), flat(box(10, 1, -4, 2)));
    expect([...sum]).toEqual([-4, 2, 9, 2, 9, 8, -4, 8]);
  });
});

describe("outlines with fewer points", () => {
  it("lose what lies on straight lines and nothing else", () => {
    const dotted = ring([0, 0], [5, 0], [5, 0], [10, 0], [10, 10], [4, 10], [0, 10], [0, 3]);
    expect(cleanRing(dotted, 1e-9)).toEqual(box(10, 10));
    const bent = ring([0, 0], [5, -0.001], [10, 0], [10, 10], [0, 10]);
    expect(cleanRing(bent, 1e-9)).toEqual(bent);
  });

  it("hold all of the outline, stay in its box, and grow little", () => {
    let judged = 0;
    let fewer = 0;
    fc.assert(
      fc.property(star, (outer) => {
        const bounds = { minX: -100, minY: -100, maxX: 100, maxY: 100 };
        const grown = grownRing(outer, 1, 8, bounds);
        const outside = polygonClipping.difference(polygon(outer), polygon(grown));
        const lost = outside.flatMap(([shell]) => shell!.map(([x, y]) => ({ x, y })));
        expect(Math.abs(area(lost))).toBeLessThan(1e-6);
        expect(grown.every(({ x, y }) => Math.max(Math.abs(x), Math.abs(y)) <= 100)).toBe(true);
        judged++;
        if (grown.length < outer.length) fewer++;
      }),
      { seed: 6, numRuns: 100 },
    );
    expect(judged).toBe(100);
    expect(fewer).toBeGreaterThan(10);
  });

  it("keep the straight sides of a rounded rectangle where they are", () => {
    const rounded = [
      ...corner(95, 5, 270),
      ...corner(95, 55, 0),
      ...corner(5, 55, 90),
      ...corner(5, 5, 180),
    ];
    const grown = grownRing(rounded, 0.2, 8, { minX: 0, minY: 0, maxX: 100, maxY: 60 });
    expect(grown.length).toBeLessThan(rounded.length);
    const xs = grown.map(({ x }) => x);
    expect([Math.min(...xs), Math.max(...xs)]).toEqual([0, 100]);
  });
});

describe("turns worth trying", () => {
  it("leave out those that come to the same", () => {
    expect(turnsOf(box(30, 30), "quarter", true)).toHaveLength(1);
    expect(turnsOf(box(30, 20), "quarter", true)).toHaveLength(2);
    expect(turnsOf(disc(60), "any", true, 0.07)).toHaveLength(1);
    expect(turnsOf(ring([0, 0], [30, 0], [0, 20]), "quarter", true)).toHaveLength(8);
  });

  it("lay a leaning rectangle straight where any turn is allowed", () => {
    const leaning = box(80, 20).map(({ x, y }) => {
      const angle = (17 * Math.PI) / 180;
      return {
        x: x * Math.cos(angle) - y * Math.sin(angle),
        y: x * Math.sin(angle) + y * Math.cos(angle),
      };
    });
    const heights = turnsOf(leaning, "any").map(({ box: { minY, maxY } }) => maxY - minY);
    expect(Math.min(...heights)).toBeCloseTo(20, 9);
  });
});
