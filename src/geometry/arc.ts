import { distance } from "./point.ts";
import type { Point, Segment } from "./types.ts";

/** Circular arcs, given by start, centre and signed sweep. */

export type Arc = Extract<Segment, { kind: "arc" }>;

const QUARTER_TURN = Math.PI / 2;

export function arcRadius(from: Point, arc: Arc): number {
  return distance(from, arc.centre);
}

/** Angle of the radius to the start, radians. */
export function arcStartAngle(from: Point, arc: Arc): number {
  return Math.atan2(from.y - arc.centre.y, from.x - arc.centre.x);
}

/** The point at a share of the sweep, 0 to 1; exactly the ends at 0 and 1. */
export function arcPoint(from: Point, arc: Arc, share: number): Point {
  if (share === 0) return from;
  if (share === 1) return arc.to;
  const radius = arcRadius(from, arc);
  const angle = arcStartAngle(from, arc) + arc.sweepRad * share;
  return {
    x: arc.centre.x + radius * Math.cos(angle),
    y: arc.centre.y + radius * Math.sin(angle),
  };
}

/** The points between the ends that lie furthest left, right, down or up on their circle. */
export function arcExtremes(from: Point, arc: Arc): Point[] {
  const radius = arcRadius(from, arc);
  const start = arcStartAngle(from, arc);
  const [low, high] = [
    Math.min(start, start + arc.sweepRad),
    Math.max(start, start + arc.sweepRad),
  ];
  const found: Point[] = [];
  for (let quarter = Math.ceil(low / QUARTER_TURN); quarter * QUARTER_TURN <= high; quarter++) {
    const { x, y } = compass(quarter);
    found.push({ x: arc.centre.x + radius * x, y: arc.centre.y + radius * y });
  }
  return found;
}

/** Unit vector at a whole number of quarter turns, without the dust of Math.cos. */
export function compass(quarters: number): Point {
  const directions = [
    { x: 1, y: 0 },
    { x: 0, y: 1 },
    { x: -1, y: 0 },
    { x: 0, y: -1 },
  ] as const;
  return directions[((quarters % 4) + 4) % 4] ?? directions[0];
}

/** Unit vector at an angle in degrees, exact at whole quarter turns. */
export function unitVector(degrees: number): Point {
  const within = degrees % 360;
  if (within % 90 === 0) return compass(within / 90);
  const angle = (within * Math.PI) / 180;
  return { x: Math.cos(angle), y: Math.sin(angle) };
}
