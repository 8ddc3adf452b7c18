import { legPart, legPoint, legRate } from "../geometry/leg.ts";
import { legsOf, pathLength } from "../geometry/path.ts";
import type { Leg } from "../geometry/path.ts";
import { cross, dot, subtract } from "../geometry/point.ts";
import type { Path, Point, Segment } from "../geometry/types.ts";

/**
 * Where a closed contour may be begun. A start leaves a mark, which a corner hides: only corners,
 * where there are any (common practice, no source). On a contour without corners it shows the same
 * everywhere, so that any point will do; points all along it are near enough.
 */

/** On a leg of a path, at a share of it from 0 up to, but not including, 1. */
export interface Start {
  readonly leg: number;
  readonly share: number;
  readonly point: Point;
}

/** @param path closed. */
export function startsOn(path: Path): readonly Start[] {
  const legs = legsOf(path);
  const starts = legs.map(({ from }, leg) => ({ leg, share: 0, point: from }));
  const corners = starts.filter(({ leg }) => turn(legs.at(leg - 1), legs[leg]) >= CORNER_RAD);
  return thinned(corners.length > 0 ? corners : allAlong(path, legs));
}

/** Of many corners some all along: the way to the next of them is a fiftieth of the contour. */
function thinned(starts: readonly Start[]): readonly Start[] {
  const step = Math.max(1, starts.length / MOST_STARTS);
  return starts.filter((_, index) => Math.floor(index / step) !== Math.floor((index - 1) / step));
}

/** More make the order slow to find, and hardly shorter. */
const MOST_STARTS = 48;

/** The closed path, begun elsewhere. */
export function begunAt(path: Path, { leg, share, point }: Start): Path {
  const { segments } = path;
  const rest = [...segments.slice(leg + 1), ...segments.slice(0, leg)];
  const split = legsOf(path)[leg];
  if (share === 0 || split === undefined) {
    return {
      start: point,
      segments: [...segments.slice(leg), ...segments.slice(0, leg)],
      closed: true,
    };
  }
  const [earlier, later] = [legPart(split, 0, share).segment, legPart(split, share, 1).segment];
  return { start: point, segments: [later, ...rest, earlier], closed: true };
}

/** Polygons drawn for curves turn less at each point. */
const CORNER_RAD = Math.PI / 9;

/** Between the directions of legs where they meet, 0 to a half turn. */
function turn(last: Leg | undefined, next: Leg | undefined): number {
  if (last === undefined || next === undefined) return 0;
  const [before, behind] = [direction(last, 1), direction(next, 0)];
  return Math.abs(Math.atan2(cross(before, behind), dot(before, behind)));
}

/** Of a cubic that stands still at its end, that of its chord. */
function direction(leg: Leg, share: 0 | 1): Point {
  const rate = legRate(leg, share);
  return rate.x === 0 && rate.y === 0 ? subtract(leg.segment.to, leg.from) : rate;
}

/** A start every so often, mm, but neither fewer nor more than so many on the whole path. */
const STEP_MM = 5;
const [FEWEST, MOST] = [8, 32];

function allAlong(path: Path, legs: readonly Leg[]): readonly Start[] {
  const whole = pathLength(path);
  const step = Math.max(whole / MOST, Math.min(whole / FEWEST, STEP_MM));
  return legs.flatMap((leg, index) => {
    const pieces = Math.max(1, Math.round(pathLength(alone(leg)) / step));
    return Array.from({ length: pieces }, (_, piece) => {
      const share = piece / pieces;
      return { leg: index, share, point: legPoint(leg, share) };
    });
  });
}

function alone({ from, segment }: { readonly from: Point; readonly segment: Segment }): Path {
  return { start: from, segments: [segment], closed: false };
}
