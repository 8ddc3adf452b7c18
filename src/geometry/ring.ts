import { distance } from "./point.ts";
import type { Box, Point, Region, Ring } from "./types.ts";

/** Closed polygons. */

/** Signed area, mm2: positive when counter-clockwise. */
export function ringArea(ring: Ring): number {
  const origin = ring[0];
  if (origin === undefined) return 0;
  let doubled = 0;
  for (let i = 1; i + 1 < ring.length; i++) {
    const a = ring[i]!;
    const b = ring[i + 1]!;
    doubled += (a.x - origin.x) * (b.y - origin.y) - (a.y - origin.y) * (b.x - origin.x);
  }
  return doubled / 2;
}

/** Of the material, mm2: 0 or more whichever way the rings run. */
export function regionArea({ outer, holes }: Region): number {
  return holes.reduce((sum, hole) => sum - Math.abs(ringArea(hole)), Math.abs(ringArea(outer)));
}

/** mm, the closing side included. */
export function ringPerimeter(ring: Ring): number {
  let sum = 0;
  let previous = ring.at(-1);
  for (const point of ring) {
    if (previous !== undefined) sum += distance(previous, point);
    previous = point;
  }
  return sum;
}

export function ringBounds(ring: Ring): Box {
  return boundsOf(ring);
}

/** Box around points. Without points it is empty: its minima are Infinity, its maxima -Infinity. */
export function boundsOf(points: Iterable<Point>): Box {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { x, y } of points) {
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  }
  return { minX, minY, maxX, maxY };
}

/** Whether boxes share a point, edges included, when both are grown so that `apart` lies between. */
export function boxesOverlap(a: Box, b: Box, apart = 0): boolean {
  return (
    a.minX - apart <= b.maxX &&
    b.minX - apart <= a.maxX &&
    a.minY - apart <= b.maxY &&
    b.minY - apart <= a.maxY
  );
}

/** Even-odd rule. A point on the line itself may fall either way. */
export function pointInRing(point: Point, ring: Ring): boolean {
  let inside = false;
  let a = ring.at(-1);
  for (const b of ring) {
    if (a !== undefined && a.y > point.y !== b.y > point.y) {
      const x = a.x + ((point.y - a.y) / (b.y - a.y)) * (b.x - a.x);
      if (point.x < x) inside = !inside;
    }
    a = b;
  }
  return inside;
}

/** The ring itself, or its reverse, so that it runs clockwise. */
export function clockwise(ring: Ring): Ring {
  return ringArea(ring) > 0 ? ring.toReversed() : ring;
}
