import type { Box, Point, Ring } from "../geometry/types.ts";
import { turning } from "./convex.ts";

/**
 * Rings with fewer points, made beforehand so that the search has less to look at. Material lies to
 * the left of a ring's edges, holes included, as in a Region.
 */

/** Without repeated points and points on a straight line; shape and direction stay. */
export function cleanRing(ring: Ring, toleranceMm: number): Ring {
  const apart = ring.filter((point, index) => {
    const before = ring[(index + ring.length - 1) % ring.length]!;
    return Math.hypot(point.x - before.x, point.y - before.y) > toleranceMm;
  });
  const kept = [...apart];
  for (let index = 0; index < kept.length && kept.length > 3;) {
    const before = kept[(index + kept.length - 1) % kept.length]!;
    const after = kept[(index + 1) % kept.length]!;
    if (isBetween(before, kept[index]!, after, toleranceMm)) kept.splice(index, 1);
    else index++;
  }
  return kept;
}

/**
 * A ring that holds all material of the given one and, as long as that costs no more than
 * `toleranceMm` at a time and more than `enough` points are left, a little more: dents are filled
 * and edges between two corners are replaced by the corner that their neighbours meet in. It never
 * reaches out of `box`, and long straight edges stay where they are.
 */
export function grownRing(ring: Ring, toleranceMm: number, enough: number, box: Box): Ring {
  const points = [...ring];
  while (points.length > enough) {
    const change = leastChange(points, toleranceMm, box);
    if (change === null) break;
    if (change.apex === null) points.splice(change.index, 1);
    else {
      points[change.index] = change.apex;
      points.splice((change.index + 1) % points.length, 1);
    }
  }
  return points;
}

interface Change {
  /** Of the dent that is filled, or of the first end of the edge that is replaced. */
  readonly index: number;
  readonly apex: Point | null;
  readonly costMm: number;
}

function leastChange(points: readonly Point[], toleranceMm: number, box: Box): Change | null {
  let least: Change | null = null;
  for (let index = 0; index < points.length; index++) {
    const change = changeAt(points, index, box);
    if (change !== null && change.costMm <= (least?.costMm ?? toleranceMm)) least = change;
  }
  return least;
}

function changeAt(points: readonly Point[], index: number, box: Box): Change | null {
  const at = (offset: number) => points[(index + offset + points.length) % points.length]!;
  const [a, b, c, d] = [at(-1), at(0), at(1), at(2)];
  if (turning(a, b, c) < 0) return { index, apex: null, costMm: distanceToLine(b, a, c) };
  if (turning(a, b, c) === 0 || turning(b, c, d) <= 0) return null;
  const apex = meeting(a, b, c, d);
  if (apex === null || !inBox(apex, box)) return null;
  return { index, apex, costMm: distanceToLine(apex, b, c) };
}

/** Where the lines a-b, beyond b, and d-c, beyond c, meet. */
function meeting(a: Point, b: Point, c: Point, d: Point): Point | null {
  const [ux, uy, vx, vy] = [b.x - a.x, b.y - a.y, d.x - c.x, d.y - c.y];
  const turn = ux * vy - uy * vx;
  if (turn <= 0) return null;
  const along = ((c.x - b.x) * vy - (c.y - b.y) * vx) / turn;
  return along > 0 ? { x: b.x + along * ux, y: b.y + along * uy } : null;
}

function inBox({ x, y }: Point, { minX, minY, maxX, maxY }: Box): boolean {
  return x >= minX && x <= maxX && y >= minY && y <= maxY;
}

function isBetween(a: Point, b: Point, c: Point, toleranceMm: number): boolean {
  const ahead = (b.x - a.x) * (c.x - b.x) + (b.y - a.y) * (c.y - b.y) > 0;
  return ahead && distanceToLine(b, a, c) <= toleranceMm;
}

function distanceToLine(point: Point, a: Point, b: Point): number {
  return Math.abs(turning(a, b, point)) / Math.hypot(b.x - a.x, b.y - a.y);
}
