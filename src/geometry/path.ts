import { arcExtremes, arcRadius } from "./arc.ts";
import { cubicExtremes, cubicLength } from "./cubic.ts";
import { cross, distance, subtract } from "./point.ts";
import { boundsOf } from "./ring.ts";
import type { Box, Path, Point, Segment } from "./types.ts";

/** Measuring and turning round of paths, from their curves. */

/** A segment together with the point that it starts from. */
export interface Leg {
  readonly from: Point;
  readonly segment: Segment;
}

export function legsOf(path: Path): Leg[] {
  let from = path.start;
  return path.segments.map((segment) => {
    const leg = { from, segment };
    from = segment.to;
    return leg;
  });
}

export function pathEnd(path: Path): Point {
  return path.segments.at(-1)?.to ?? path.start;
}

/** mm; lines and arcs exact, cubics to about 1e-10 of their length. */
export function pathLength(path: Path): number {
  return legsOf(path).reduce((sum, leg) => sum + legLength(leg), 0);
}

/**
 * Signed area in mm2, counter-clockwise positive; an open path is taken as closed by a straight
 * line. Exact, by Green's theorem: the polygon of the segments' ends, and for each segment what
 * lies between it and its chord.
 */
export function pathArea(path: Path): number {
  let area = 0;
  for (const { from, segment } of legsOf(path)) {
    const chord = cross(subtract(from, path.start), subtract(segment.to, path.start)) / 2;
    area += chord + bulge(from, segment);
  }
  return area;
}

/** The same line run the other way. */
export function reversePath(path: Path): Path {
  const segments = legsOf(path).toReversed().map(reversedLeg);
  return { start: pathEnd(path), segments, closed: path.closed };
}

/** The smallest upright box around the curves themselves, not around their control points. */
export function pathBounds(path: Path): Box {
  return boundsOf([
    path.start,
    ...legsOf(path).flatMap(({ from, segment }) => extremes(from, segment)),
  ]);
}

/** Two half turns, counter-clockwise, from the rightmost point. */
export function circlePath(centre: Point, radiusMm: number): Path {
  const right = { x: centre.x + radiusMm, y: centre.y };
  const left = { x: centre.x - radiusMm, y: centre.y };
  return {
    start: right,
    segments: [
      { kind: "arc", to: left, centre, sweepRad: Math.PI },
      { kind: "arc", to: right, centre, sweepRad: Math.PI },
    ],
    closed: true,
  };
}

/** Straight lines through the points; a closed one returns to the first, which is not repeated. */
export function polylinePath(points: readonly [Point, ...Point[]], closed: boolean): Path {
  const [start, ...rest] = points;
  const stops = closed ? [...rest, start] : rest;
  return { start, segments: stops.map((to) => ({ kind: "line", to })), closed };
}

/** mm, as {@link pathLength}. */
export function legLength({ from, segment }: Leg): number {
  if (segment.kind === "line") return distance(from, segment.to);
  if (segment.kind === "arc") return arcRadius(from, segment) * Math.abs(segment.sweepRad);
  return cubicLength(from, segment);
}

/** Signed area between a segment and its chord. */
function bulge(from: Point, segment: Segment): number {
  if (segment.kind === "line") return 0;
  if (segment.kind === "arc") {
    const { sweepRad } = segment;
    return (arcRadius(from, segment) ** 2 * (sweepRad - Math.sin(sweepRad))) / 2;
  }
  // The integral of (x dy - y dx) / 2 over the Bernstein polynomials, with the start at 0,0.
  const p1 = subtract(segment.control1, from);
  const p2 = subtract(segment.control2, from);
  const p3 = subtract(segment.to, from);
  return (3 * cross(p1, p2) + 3 * cross(p1, p3) + 6 * cross(p2, p3)) / 20;
}

function reversedLeg({ from, segment }: Leg): Segment {
  if (segment.kind === "line") return { kind: "line", to: from };
  if (segment.kind === "arc") return { ...segment, to: from, sweepRad: -segment.sweepRad };
  return { kind: "cubic", control1: segment.control2, control2: segment.control1, to: from };
}

function extremes(from: Point, segment: Segment): Point[] {
  if (segment.kind === "line") return [segment.to];
  if (segment.kind === "arc") return [...arcExtremes(from, segment), segment.to];
  return [...cubicExtremes(from, segment), segment.to];
}
