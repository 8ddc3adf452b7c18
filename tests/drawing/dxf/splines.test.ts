import { describe, expect, it } from "vitest";
import { nurbsSpans } from "../../../src/drawing/dxf/nurbs.ts";
import { flattenPath } from "../../../src/geometry/flatten.ts";
import type { Path, Point } from "../../../src/geometry/types.ts";
import { dxf, entity, readPart } from "./dxf-text.ts";

/**
 * Splines against the definition: sums of the basis functions of Cox and de Boor, which the reader
 * does not use. (de Boor, A Practical Guide to Splines, 1978, chapter IX.)
 */

interface Spline {
  readonly degree: number;
  readonly knots: readonly number[];
  readonly points: readonly Point[];
  readonly weights?: readonly number[];
}

function share(top: number, bottom: number): number {
  return bottom === 0 ? 0 : top / bottom;
}

function basis({ degree, knots }: Spline, index: number, u: number, last: number): number {
  const knot = (k: number): number => knots[k] ?? 0;
  const of = (i: number, p: number): number => {
    if (p === 0) {
      const isLast = u === last && knot(i) < u && knot(i + 1) === last;
      return (knot(i) <= u && u < knot(i + 1)) || isLast ? 1 : 0;
    }
    return (
      share(u - knot(i), knot(i + p) - knot(i)) * of(i, p - 1) +
      share(knot(i + p + 1) - u, knot(i + p + 1) - knot(i + 1)) * of(i + 1, p - 1)
    );
  };
  return of(index, degree);
}

function onSpline(spline: Spline, share: number): Point {
  const { degree, knots, points, weights } = spline;
  const [first = 0, last = 0] = [knots[degree], knots[points.length]];
  const u = first + share * (last - first);
  let [x, y, w] = [0, 0, 0];
  for (const [index, point] of points.entries()) {
    const part = basis(spline, index, u, last) * (weights?.[index] ?? 1);
    x += part * point.x;
    y += part * point.y;
    w += part;
  }
  return { x: x / w, y: y / w };
}

function clamped(degree: number, count: number): number[] {
  const inner = Array.from({ length: count - degree - 1 }, (_, index) => index + 1);
  const ends = (knot: number): number[] => Array.from({ length: degree + 1 }, () => knot);
  return [...ends(0), ...inner, ...ends(count - degree)];
}

/** A loop about 0,0 that comes back to its start. */
function loop(count: number): Point[] {
  return Array.from({ length: count }, (_, index) => {
    const angle = (2 * Math.PI * index) / (count - 1);
    const radius = index === 0 || index === count - 1 ? 50 : 40 + 17 * ((index * 7) % 3);
    return { x: radius * Math.cos(angle), y: radius * Math.sin(angle) };
  });
}

function splineEntity({ degree, knots, points, weights }: Spline, flags = 8): string {
  return entity(
    "SPLINE",
    [70, flags, 71, degree, 72, knots.length, 73, points.length, 74, 0],
    ...knots.flatMap((knot) => [40, knot]),
    ...(weights ?? []).flatMap((weight) => [41, weight]),
    ...points.flatMap(({ x, y }) => [10, x, 20, y, 30, 0]),
  );
}

/** How far points of the definition lie from the path that was read. */
function furthest(spline: Spline, path: Path): number {
  const ring = flattenPath(path, 1e-5);
  return Array.from({ length: 301 }, (_, index) => onSpline(spline, index / 300)).reduce(
    (most, point) => Math.max(most, distanceTo(ring, point)),
    0,
  );
}

function distanceTo(ring: readonly Point[], { x, y }: Point): number {
  return ring.reduce((least, a, index) => {
    const b = ring[(index + 1) % ring.length] ?? a;
    const [dx, dy] = [b.x - a.x, b.y - a.y];
    const share = ((x - a.x) * dx + (y - a.y) * dy) / (dx * dx + dy * dy || 1);
    const t = Math.min(1, Math.max(0, share));
    return Math.min(least, Math.hypot(x - a.x - t * dx, y - a.y - t * dy));
  }, Infinity);
}

function outlineOf(spline: Spline): Path {
  return readPart(dxf(splineEntity(spline))).outline;
}

describe("splines of degree 1, 2 and 3 without weights", () => {
  it("are exact, piece by piece at the same parameter", () => {
    let compared = 0;
    for (const degree of [1, 2, 3])
      for (const count of [6, 9, 14]) {
        const points = loop(count);
        const spline: Spline = { degree, knots: clamped(degree, count), points };
        const controls = points.map(({ x, y }) => ({ x, y, w: 1 }));
        const spans = nurbsSpans({ degree, knots: spline.knots, controls }, 1e9);
        expect(spans).toHaveLength(count - degree);
        for (const [index, { start, segments }] of spans.entries()) {
          expect(segments).toHaveLength(1);
          for (const t of [0, 0.3, 0.5, 0.9, 1]) {
            const here = onSegment(start, segments[0], t);
            const there = onSpline(spline, (index + t) / spans.length);
            expect(Math.hypot(here.x - there.x, here.y - there.y)).toBeLessThan(1e-11);
            compared++;
          }
        }
      }
    expect(compared).toBeGreaterThan(300);
  });

  it("may have unequal knots, repeated knots and unclamped ends", () => {
    const points = loop(9);
    for (const knots of [
      [0, 0, 0, 0, 0.1, 0.7, 2, 2.5, 9, 11, 11, 11, 11],
      [0, 0, 0, 0, 1, 2, 2, 2, 3, 4, 4, 4, 4],
      [5, 5, 5, 5, 6, 6, 7, 8, 8, 9, 9, 9, 9],
    ]) {
      const spline = { degree: 3, knots, points };
      expect(furthest(spline, outlineOf(spline))).toBeLessThan(2e-5);
    }
    // A closed periodic one: evenly spaced knots, the first three points again at the end.
    const round = loop(9).slice(0, 8);
    const periodic: Spline = {
      degree: 3,
      knots: Array.from({ length: 15 }, (_, index) => index - 3),
      points: [...round, ...round.slice(0, 3)],
    };
    const read = readPart(dxf(splineEntity(periodic, 1 + 2 + 8)));
    expect(read.outline.closed).toBe(true);
    expect(furthest(periodic, read.outline)).toBeLessThan(2e-5);
  });

  it("whose pieces part at a knot are lines of their own", () => {
    const controls = [0, 1, 2, 3].map((x) => ({ x, y: 0, w: 1 }));
    const spans = nurbsSpans({ degree: 1, knots: [0, 0, 1, 1, 2, 2], controls }, 1);
    expect(spans.map(({ start, segments }) => [start.x, segments[0]?.to.x])).toEqual([
      [0, 1],
      [2, 3],
    ]);
  });
});

describe("splines with weights or of a higher degree", () => {
  it("keep within 0.001 mm of the definition", () => {
    for (const [degree, count] of [
      [2, 9],
      [3, 9],
      [4, 11],
      [5, 12],
      [7, 12],
    ] as const) {
      const points = loop(count);
      const weights = points.map((_, index) => [1, 3, 0.4][index % 3] ?? 1);
      const knots = clamped(degree, count);
      const rational = { degree, knots, points, weights };
      expect(furthest(rational, outlineOf(rational))).toBeLessThan(0.001);
      const plain = { degree, knots, points };
      expect(furthest(plain, outlineOf(plain))).toBeLessThan(0.001);
    }
  });

  it("that are circles have the circle's area and length", () => {
    // The circle of nine points: Piegl and Tiller, The NURBS Book, section 7.5.
    const r = 30;
    const corners = [
      [1, 0],
      [1, 1],
      [0, 1],
      [-1, 1],
      [-1, 0],
      [-1, -1],
      [0, -1],
      [1, -1],
      [1, 0],
    ].map(([x = 0, y = 0]) => ({ x: x * r, y: y * r }));
    const circle: Spline = {
      degree: 2,
      knots: [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4],
      points: corners,
      weights: corners.map((_, index) => (index % 2 === 0 ? 1 : Math.SQRT1_2)),
    };
    const { outline, areaMm2, cutLengthMm } = readPart(dxf(splineEntity(circle, 1 + 4 + 8)));
    expect(outline.closed).toBe(true);
    expect(Math.abs(areaMm2 - Math.PI * r * r)).toBeLessThan(0.001 * 2 * Math.PI * r);
    expect(Math.abs(cutLengthMm - 2 * Math.PI * r)).toBeLessThan(0.002);
    for (const { x, y } of flattenPath(outline, 0.01))
      expect(Math.abs(Math.hypot(x, y) - r)).toBeLessThan(0.001);
  });

  it("keep within 0.001 mm however large they are inserted", () => {
    const points = loop(9).map(({ x, y }) => ({ x: x / 100, y: y / 100 }));
    const weights = points.map((_, index) => 1 + (index % 2));
    const small = { degree: 3, knots: clamped(3, 9), points, weights };
    const text = dxf(entity("INSERT", 2, "b", 10, 0, 20, 0, 41, 100, 42, 100), {
      blocks: entity("BLOCK", 2, "b", 10, 0, 20, 0) + splineEntity(small) + entity("ENDBLK"),
    });
    const large = { ...small, points: loop(9) };
    expect(furthest(large, readPart(text).outline)).toBeLessThan(0.001);
  });
});

function onSegment(from: Point, segment: Path["segments"][number] | undefined, t: number): Point {
  if (segment?.kind === "line")
    return { x: from.x + t * (segment.to.x - from.x), y: from.y + t * (segment.to.y - from.y) };
  if (segment?.kind !== "cubic") throw new RangeError("neither a line nor a cubic");
  const all = [from, segment.control1, segment.control2, segment.to];
  const shares = [(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t ** 3];
  return all.reduce(
    (sum, { x, y }, index) => ({
      x: sum.x + x * (shares[index] ?? 0),
      y: sum.y + y * (shares[index] ?? 0),
    }),
    { x: 0, y: 0 },
  );
}
