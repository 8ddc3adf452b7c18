import { distance } from "./point.ts";
import { RingSides } from "./ring-sides.ts";
import { sweepPairs } from "./side-sweep.ts";
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
 * roughly in order along the longer side of the common box, each place once.
 */
export function crossings(rings: readonly Ring[], most: number): Crossing[] {
  const sides = new RingSides(rings);
  const found: Crossing[] = [];
  sweepPairs(sides, 0, (earlier, later) => {
    const point = contact(sides, earlier, later);
    if (point === null) return false;
    const isNew = found.every((known) => distance(known.point, point) > ONE_PLACE_MM);
    if (isNew) found.push({ point, rings: [sides.ring[earlier] ?? 0, sides.ring[later] ?? 0] });
    return found.length >= most;
  });
  return found;
}

/** Contacts nearer to each other are one for a person. */
const ONE_PLACE_MM = 0.1;

interface Side {
  readonly a: Point;
  readonly b: Point;
}

function sideAt({ x, y, next }: RingSides, side: number): Side {
  const end = next[side] ?? 0;
  return { a: { x: x[side] ?? 0, y: y[side] ?? 0 }, b: { x: x[end] ?? 0, y: y[end] ?? 0 } };
}

function contact(sides: RingSides, p: number, q: number): Point | null {
  const [one, two] = [sideAt(sides, p), sideAt(sides, q)];
  if (sides.next[p] === q) return turnBack(one, two);
  if (sides.next[q] === p) return turnBack(two, one);
  return meeting(one, two);
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
