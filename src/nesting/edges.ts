import { boundsOf } from "../geometry/ring.ts";
import type { Box, Point, Ring } from "../geometry/types.ts";
import { Bands } from "./bands.ts";
import { turning } from "./convex.ts";

/** The edges of rings, found by where they lie. */
export interface Edges {
  readonly box: Box;
  readonly from: readonly Point[];
  readonly to: readonly Point[];
  readonly bands: Bands;
}

export function edgesOf(rings: readonly Ring[]): Edges {
  const from = rings.flat();
  const to = rings.flatMap((ring) => ring.map((_, index) => ring[(index + 1) % ring.length]!));
  const box = boundsOf(from);
  const bands = new Bands(box.minY, box.maxY, from.length);
  for (const [edge, { y }] of from.entries()) bands.add(edge, y, to[edge]!.y);
  return { box, from, to, bands };
}

/** Even-odd rule; a point on an edge may fall either way. */
export function isWithin({ from, to, bands }: Edges, { x, y }: Point): boolean {
  let inside = false;
  for (const edge of bands.at(y)) {
    const [a, b] = [from[edge]!, to[edge]!];
    if (a.y > y !== b.y > y && x < a.x + ((y - a.y) / (b.y - a.y)) * (b.x - a.x)) inside = !inside;
  }
  return inside;
}

/** Whether an edge of the ring goes through one of these; those that only touch do not. */
export function isCrossed({ from, to, bands }: Edges, ring: Ring): boolean {
  const { minX, minY, maxX, maxY } = boundsOf(ring);
  return bands.some(minY, maxY, (edge) => {
    const [a, b] = [from[edge]!, to[edge]!];
    if (Math.min(a.x, b.x) > maxX || Math.max(a.x, b.x) < minX) return false;
    if (Math.min(a.y, b.y) > maxY || Math.max(a.y, b.y) < minY) return false;
    return ring.some((c, index) => {
      const d = ring[(index + 1) % ring.length]!;
      return parts(a, b, c, d) && parts(c, d, a, b);
    });
  });
}

/** Whether a point lies on an edge. */
export function isOnEdge(
  { from, to, bands }: Edges,
  { x, y }: Point,
  toleranceMm: number,
): boolean {
  return bands.some(y - toleranceMm, y + toleranceMm, (edge) => {
    const [a, b] = [from[edge]!, to[edge]!];
    const [dx, dy, px, py] = [b.x - a.x, b.y - a.y, x - a.x, y - a.y];
    const square = dx * dx + dy * dy;
    const along = square === 0 ? 0 : Math.min(1, Math.max(0, (px * dx + py * dy) / square));
    return Math.hypot(px - along * dx, py - along * dy) <= toleranceMm;
  });
}

/** Whether the line through a and b runs between c and d. */
function parts(a: Point, b: Point, c: Point, d: Point): boolean {
  return turning(a, b, c) * turning(a, b, d) < 0;
}
