import { distance } from "./point.ts";
import { boundsOf } from "./ring.ts";
import type { Point, Ring } from "./types.ts";

/** Where polygons cross or touch themselves or each other. */

export interface Crossing {
  readonly point: Point;
  /** Indices of the two rings; equal when a ring meets itself. */
  readonly rings: readonly [number, number];
}

export function ringIsSimple(ring: Ring): boolean {
  return firstCrossing([ring]) === null;
}

/** The first of {@link crossings}; null when there is none. */
export function firstCrossing(rings: readonly Ring[]): Crossing | null {
  return crossings(rings, 1)[0] ?? null;
}

/**
 * Contacts between sides that are not neighbours (or of neighbours that turn back on each other),
 * in order along the longer side of the common box, each place once.
 * Sides are swept along that axis: about n * sqrt(n) steps for n sides that spread over an area.
 */
export function crossings(rings: readonly Ring[], most: number): Crossing[] {
  const sides = sortedSides(rings);
  const found: Crossing[] = [];
  for (let i = 0; i < sides.length; i++) {
    const side = sides[i]!;
    for (let j = i + 1; j < sides.length; j++) {
      const other = sides[j]!;
      if (other.sweepLow > side.sweepHigh) break;
      if (other.acrossLow > side.acrossHigh || other.acrossHigh < side.acrossLow) continue;
      const point = contact(side, other);
      if (point === null) continue;
      const isNew = found.every((known) => distance(known.point, point) > ONE_PLACE_MM);
      if (isNew) found.push({ point, rings: [side.ring, other.ring] });
      if (found.length >= most) return found;
    }
  }
  return found;
}

/** Contacts nearer to each other are one for a person. */
const ONE_PLACE_MM = 0.1;

interface Side {
  readonly a: Point;
  readonly b: Point;
  readonly ring: number;
  readonly index: number;
  /** Sides of the same ring. */
  readonly count: number;
  readonly sweepLow: number;
  readonly sweepHigh: number;
  readonly acrossLow: number;
  readonly acrossHigh: number;
}

/** All sides of more than zero length, in sweep order. */
function sortedSides(rings: readonly Ring[]): Side[] {
  const box = boundsOf(rings.flat());
  const alongX = box.maxX - box.minX >= box.maxY - box.minY;
  const sides = rings.flatMap((ring, ringIndex) =>
    ring.map((a, index) =>
      sideOf(a, ring[(index + 1) % ring.length]!, index, ring.length, ringIndex, alongX),
    ),
  );
  return sides.sort((a, b) => a.sweepLow - b.sweepLow || a.ring - b.ring || a.index - b.index);
}

function sideOf(
  a: Point,
  b: Point,
  index: number,
  count: number,
  ring: number,
  alongX: boolean,
): Side {
  const [fromSweep, toSweep, fromAcross, toAcross] = alongX
    ? [a.x, b.x, a.y, b.y]
    : [a.y, b.y, a.x, b.x];
  return {
    a,
    b,
    ring,
    index,
    count,
    sweepLow: Math.min(fromSweep, toSweep),
    sweepHigh: Math.max(fromSweep, toSweep),
    acrossLow: Math.min(fromAcross, toAcross),
    acrossHigh: Math.max(fromAcross, toAcross),
  };
}

function contact(p: Side, q: Side): Point | null {
  if (p.ring !== q.ring) return meeting(p, q);
  if ((p.index + 1) % p.count === q.index) return turnBack(p, q);
  if ((q.index + 1) % q.count === p.index) return turnBack(q, p);
  return meeting(p, q);
}

/** Neighbours share a point anyway; they are wrong only when the second runs back over the first. */
function turnBack(first: Side, second: Side): Point | null {
  const ahead = orientation(first.a, first.b, second.b);
  const along =
    (first.b.x - first.a.x) * (second.b.x - first.b.x) +
    (first.b.y - first.a.y) * (second.b.y - first.b.y);
  return ahead === 0 && along < 0 ? first.b : null;
}

function meeting(p: Side, q: Side): Point | null {
  const qa = orientation(p.a, p.b, q.a);
  const qb = orientation(p.a, p.b, q.b);
  const pa = orientation(q.a, q.b, p.a);
  const pb = orientation(q.a, q.b, p.b);
  if (opposite(qa, qb) && opposite(pa, pb)) {
    const share = pa / (pa - pb);
    return { x: p.a.x + share * (p.b.x - p.a.x), y: p.a.y + share * (p.b.y - p.a.y) };
  }
  if (qa === 0 && within(p, q.a)) return q.a;
  if (qb === 0 && within(p, q.b)) return q.b;
  if (pa === 0 && within(q, p.a)) return p.a;
  if (pb === 0 && within(q, p.b)) return p.b;
  return null;
}

function orientation(a: Point, b: Point, c: Point): number {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

function opposite(a: number, b: number): boolean {
  return (a < 0 && b > 0) || (a > 0 && b < 0);
}

/** For a point known to lie on the side's line. */
function within({ a, b }: Side, point: Point): boolean {
  return (
    Math.min(a.x, b.x) <= point.x &&
    point.x <= Math.max(a.x, b.x) &&
    Math.min(a.y, b.y) <= point.y &&
    point.y <= Math.max(a.y, b.y)
  );
}
