import { arcPoint, arcRadius } from "./arc.ts";
import type { Arc } from "./arc.ts";
import { cubicPoint } from "./cubic.ts";
import type { Cubic } from "./cubic.ts";
import { samePoint } from "./point.ts";
import type { Path, Point, Segment } from "./types.ts";

/**
 * Vertices on the curve, such that no chord lies further than the tolerance from its piece of
 * curve. Each segment is divided evenly, so the same path gives the same points. The last point of
 * a closed path is not repeated; points that fall together are given once.
 */
export function flattenPath(path: Path, toleranceMm: number): Point[] {
  if (!(toleranceMm > 0)) throw new RangeError(`flattening tolerance ${toleranceMm} mm`);
  const points = [path.start];
  let [from, last] = [path.start, path.start];
  for (const segment of path.segments) {
    const chords = chordsOf(from, segment, toleranceMm);
    for (let chord = 1; chord <= chords; chord++) {
      const point = segmentPoint(from, segment, chord / chords);
      if (samePoint(point, last)) continue;
      points.push(point);
      last = point;
    }
    from = segment.to;
  }
  if (path.closed && points.length > 1 && samePoint(path.start, last)) points.pop();
  return points;
}

/** Whether flattening leaves the path as it is. */
export function isStraight(path: Path): boolean {
  return path.segments.every((segment) => segment.kind === "line");
}

/** Even a circle smaller than the tolerance keeps its eight corners, and so most of its area. */
const LARGEST_STEP_RAD = Math.PI / 4;

function chordsOf(from: Point, segment: Segment, tolerance: number): number {
  if (segment.kind === "line") return 1;
  if (segment.kind === "arc") return arcChords(from, segment, tolerance);
  return cubicChords(from, segment, tolerance);
}

function segmentPoint(from: Point, segment: Segment, share: number): Point {
  if (segment.kind === "line") return segment.to;
  if (segment.kind === "arc") return arcPoint(from, segment, share);
  return cubicPoint(from, segment, share);
}

/** The sagitta of a chord over the angle a is r (1 - cos(a/2)). */
function arcChords(from: Point, arc: Arc, tolerance: number): number {
  const cosine = Math.max(1 - tolerance / arcRadius(from, arc), 0);
  const step = Math.min(2 * Math.acos(cosine), LARGEST_STEP_RAD);
  return wholeChords(Math.abs(arc.sweepRad) / step);
}

/**
 * A chord over the parameter step h departs at most h^2/8 times the largest second derivative,
 * which is at most 6 times the larger second difference of the control points.
 */
function cubicChords(from: Point, { control1, control2, to }: Cubic, tolerance: number): number {
  const bend = Math.max(
    secondDifference(from, control1, control2),
    secondDifference(control1, control2, to),
  );
  return wholeChords(Math.sqrt((6 * bend) / (8 * tolerance)));
}

function secondDifference(a: Point, b: Point, c: Point): number {
  return Math.hypot(a.x - 2 * b.x + c.x, a.y - 2 * b.y + c.y);
}

/** Rounds up, but does not let the last bit of a quotient such as pi / (pi/4) add a chord. */
function wholeChords(quotient: number): number {
  return Math.max(1, Math.ceil(quotient - 1e-9));
}
