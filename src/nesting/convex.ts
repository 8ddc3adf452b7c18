import earcut, { deviation } from "earcut";
import { boundsOf } from "../geometry/ring.ts";
import type { Point, Region, Ring } from "../geometry/types.ts";

/** Counter-clockwise, without reflex corners. */
export type Convex = readonly Point[];

/**
 * Convex pieces that together cover a region: triangles joined where the union stays convex (after
 * Hertel and Mehlhorn 1983). Where the triangles do not add up to the region, as with outlines that
 * cross themselves, its convex hull stands for it: that always covers it.
 */
export function convexParts(region: Region): readonly Convex[] {
  const rings = [region.outer, ...region.holes];
  const points = rings.flat();
  // Moved to the origin: areas of small pieces far away would drown in rounding.
  const { x: atX, y: atY } = points[0] ?? { x: 0, y: 0 };
  const flat = points.flatMap(({ x, y }) => [x - atX, y - atY]);
  const holeStarts = region.holes.map((_, hole) =>
    rings.slice(0, hole + 1).reduce((count, ring) => count + ring.length, 0),
  );
  const corners = earcut(flat, holeStarts, 2);
  const covers =
    !crossItself(rings) &&
    corners.length > 0 &&
    deviation(flat, holeStarts, 2, corners) < AREA_TOLERANCE &&
    new Set(corners).size === points.length;
  if (!covers) return [convexHull(points)];
  return joined(points, trianglesOf(points, corners));
}

/** Share of the area by which triangles may miss a region: rounding, and nothing else. */
const AREA_TOLERANCE = 1e-10;

/** Counter-clockwise from the leftmost point, without points on its edges (monotone chain, Andrew 1979). */
export function convexHull(points: readonly Point[]): Convex {
  const sorted = [...points].sort((a, b) => a.x - b.x || a.y - b.y);
  const lower = halfHull(sorted);
  const upper = halfHull(sorted.toReversed());
  return [...lower.slice(0, -1), ...upper.slice(0, -1)];
}

/**
 * Smallest distance of two parallel lines that hold a convex polygon between them. The corner that is
 * furthest from an edge walks around with it (rotating calipers, Shamos 1978).
 */
export function leastWidth(hull: Convex): number {
  const count = hull.length;
  let least = Infinity;
  let far = 0;
  for (const [index, a] of hull.entries()) {
    const b = hull[(index + 1) % count]!;
    let most = turning(a, b, hull[far]!);
    for (let step = 0; step < count; step++) {
      const further = turning(a, b, hull[(far + 1) % count]!);
      if (further < most) break;
      most = further;
      far = (far + 1) % count;
    }
    least = Math.min(least, most / Math.hypot(b.x - a.x, b.y - a.y));
  }
  return least;
}

/** Twice the area of the triangle: positive when a, b, c turn left. */
export function turning(a: Point, b: Point, c: Point): number {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

/** Whether two edges of all rings go through each other; those that only touch do not. */
export function crossItself(rings: readonly Ring[]): boolean {
  const edges = rings.flatMap((ring) =>
    ring.map((from, index) => {
      const to = ring[(index + 1) % ring.length]!;
      return { from, to, ...boundsOf([from, to]) };
    }),
  );
  edges.sort((a, b) => a.minX - b.minX);
  return edges.some((a, index) => {
    for (let next = index + 1; next < edges.length; next++) {
      const b = edges[next]!;
      if (b.minX > a.maxX) return false;
      if (b.minY > a.maxY || b.maxY < a.minY) continue;
      if (parts(a.from, a.to, b) && parts(b.from, b.to, a)) return true;
    }
    return false;
  });
}

/** Whether the line through a and b runs between the ends of an edge. */
function parts(a: Point, b: Point, edge: { readonly from: Point; readonly to: Point }): boolean {
  return turning(a, b, edge.from) * turning(a, b, edge.to) < 0;
}

function halfHull(sorted: readonly Point[]): Point[] {
  const hull: Point[] = [];
  for (const point of sorted) {
    while (hull.length > 1 && turning(hull.at(-2)!, hull.at(-1)!, point) <= 0) hull.pop();
    hull.push(point);
  }
  return hull;
}

function trianglesOf(points: readonly Point[], corners: readonly number[]): number[][] {
  const triangles: number[][] = [];
  for (let index = 0; index < corners.length; index += 3) {
    const [a, b, c] = [corners[index]!, corners[index + 1]!, corners[index + 2]!];
    const turn = turning(points[a]!, points[b]!, points[c]!);
    if (turn !== 0) triangles.push(turn > 0 ? [a, b, c] : [a, c, b]);
  }
  return triangles;
}

/** Takes away diagonals, longest first, as long as both of its ends stay convex. */
function joined(points: readonly Point[], loops: number[][]): readonly Convex[] {
  const owner = new Map<string, number>();
  for (const [index, loop] of loops.entries())
    for (const [corner, from] of loop.entries())
      owner.set(`${from},${loop[(corner + 1) % loop.length]!}`, index);
  const into = loops.map((_, index) => index);
  const root = (index: number): number => (into[index] === index ? index : root(into[index]!));
  for (const [from, to] of diagonals(points, owner)) {
    const left = root(owner.get(`${from},${to}`)!);
    const right = root(owner.get(`${to},${from}`)!);
    const union = left === right ? null : unionOf(points, loops[left]!, loops[right]!, from, to);
    if (union === null) continue;
    loops[left] = union;
    into[right] = left;
  }
  return loops.flatMap((loop, index) =>
    into[index] === index ? [loop.map((corner) => points[corner]!)] : [],
  );
}

function diagonals(
  points: readonly Point[],
  owner: ReadonlyMap<string, number>,
): readonly (readonly [number, number])[] {
  const found: { from: number; to: number; length: number }[] = [];
  for (const key of owner.keys()) {
    const [from = 0, to = 0] = key.split(",").map(Number);
    if (from > to || !owner.has(`${to},${from}`)) continue;
    const [a, b] = [points[from]!, points[to]!];
    found.push({ from, to, length: Math.hypot(b.x - a.x, b.y - a.y) });
  }
  found.sort((a, b) => b.length - a.length || a.from - b.from || a.to - b.to);
  return found.map(({ from, to }) => [from, to]);
}

/** `left` has the edge from-to, `right` has to-from. */
function unionOf(
  points: readonly Point[],
  left: readonly number[],
  right: readonly number[],
  from: number,
  to: number,
): number[] | null {
  const start = left.indexOf(to);
  const around = [...left.slice(start), ...left.slice(0, start)];
  const resume = right.indexOf(from);
  const beyond = [...right.slice(resume), ...right.slice(0, resume)];
  if (around.at(-1) !== from || beyond.at(-1) !== to) return null;
  const loop = [...around, ...beyond.slice(1, -1)];
  const convexAt = (corner: number): boolean => {
    const index = loop.indexOf(corner);
    const before = points[loop[(index + loop.length - 1) % loop.length]!]!;
    const after = points[loop[(index + 1) % loop.length]!]!;
    return turning(before, points[corner]!, after) >= 0;
  };
  return convexAt(from) && convexAt(to) ? loop : null;
}
