import { legPart, legPoint } from "../geometry/leg.ts";
import { arcRadius, arcStartAngle } from "../geometry/arc.ts";
import type { Arc } from "../geometry/arc.ts";
import { flattenPath } from "../geometry/flatten.ts";
import { legsOf, pathLength } from "../geometry/path.ts";
import type { Leg } from "../geometry/path.ts";
import { distance } from "../geometry/point.ts";
import type { Path, Point, Segment } from "../geometry/types.ts";
import type { PlacedPath } from "./drawn-line.ts";
import { SideGrid } from "./side-grid.ts";
import type { Side } from "./side-grid.ts";
import { SAME_MM } from "./twins.ts";
import { JOIN_MM } from "./weld.ts";

/** Stretches of straight lines and arcs that lie on other lines. */

/** A stretch that was taken away. */
export interface Doubled {
  readonly place: PlacedPath["place"];
  readonly from: Point;
  readonly lengthMm: number;
}

export interface Singled {
  readonly lines: readonly PlacedPath[];
  readonly doubled: readonly Doubled[];
}

/**
 * Open lines without the stretches that lie on closed contours or on earlier open lines, also on
 * earlier stretches of themselves. Closed contours are kept whole: they must stay closed. A line
 * that is covered in its middle becomes two.
 */
export function withoutDoubledStretches(lines: readonly PlacedPath[]): Singled {
  const ordered = [...lines.filter(isClosed), ...lines.filter((line) => !isClosed(line))];
  if (ordered.every(isClosed)) return { lines, doubled: [] };
  const legs = ordered.flatMap(({ path }) => legsOf(path));
  const near = nearLegs(legs);
  const doubled: Doubled[] = [];
  let first = 0;
  const kept = ordered.flatMap((line) => {
    const own = line.path.segments.map((_, index) => first + index);
    first += own.length;
    if (line.path.closed) return [line];
    const gaps = own.map((index) => covered(index, legs, near));
    if (gaps.every((spans) => spans.length === 0)) return [line];
    for (const [at, spans] of gaps.entries())
      for (const span of spans) doubled.push(taken(line, legs[own[at] ?? 0], span));
    return leftOver(line.path, gaps).map((path) => ({ ...line, path }));
  });
  return { lines: kept, doubled };
}

function isClosed({ path }: PlacedPath): boolean {
  return path.closed;
}

/** From and to, in shares of a leg. */
type Span = readonly [number, number];

const CHORD_MM = 0.05;

/** For each leg those whose chords come near its own. */
function nearLegs(legs: readonly Leg[]): (leg: number) => readonly number[] {
  const sides: Side[] = [];
  const legOfSide: number[] = [];
  const sidesOfLeg = legs.map((leg, index) => {
    const first = sides.length;
    // Cubics are compared as whole lines only.
    const points = leg.segment.kind === "cubic" ? [] : flattenPath(alone(leg), CHORD_MM);
    for (const [at, b] of points.entries()) {
      const a = points[at - 1];
      if (a === undefined) continue;
      sides.push({ a, b });
      legOfSide.push(index);
    }
    return [first, sides.length] as const;
  });
  const total = sides.reduce((sum, { a, b }) => sum + distance(a, b), 0);
  const grid = new SideGrid(sides, Math.max(1, total / Math.max(1, sides.length)));
  return (leg) => {
    const [from, to] = sidesOfLeg[leg] ?? [0, 0];
    const found = new Set<number>();
    for (const side of sides.slice(from, to))
      for (const index of grid.near(side, CHORD_MM + SAME_MM)) found.add(legOfSide[index] ?? leg);
    return [...found].filter((other) => other < leg);
  };
}

function alone({ from, segment }: Leg): Path {
  return { start: from, segments: [segment], closed: false };
}

/** The stretches of a leg that lie on earlier ones, in order, apart from each other. */
function covered(
  index: number,
  legs: readonly Leg[],
  near: (leg: number) => readonly number[],
): Span[] {
  const leg = legs[index];
  if (leg === undefined || leg.segment.kind === "cubic") return [];
  const length = pathLength(alone(leg));
  const spans = near(index)
    .flatMap((other) => shared(leg, legs[other]))
    .map(([from, to]): Span => [Math.max(0, from), Math.min(1, to)])
    .filter(([from, to]) => (to - from) * length > JOIN_MM)
    .sort(([a], [b]) => a - b);
  const united: [number, number][] = [];
  // Crumbs too short to be joined are taken away with the stretches beside them.
  const crumb = JOIN_MM / length;
  for (const [from, to] of spans) {
    const last = united.at(-1);
    if (last !== undefined && from - last[1] <= crumb) last[1] = Math.max(last[1], to);
    else united.push([from <= crumb ? 0 : from, to]);
  }
  return united.map(([from, to]) => [from, to >= 1 - crumb ? 1 : to]);
}

/** Where a leg runs along another. */
function shared(leg: Leg, other: Leg | undefined): Span[] {
  if (other === undefined) return [];
  const [one, two] = [leg.segment, other.segment];
  if (one.kind === "line" && two.kind === "line") return sharedLine(leg, other);
  if (one.kind === "arc" && two.kind === "arc") return sharedArc(leg.from, one, other.from, two);
  return [];
}

function sharedLine({ from: a, segment: { to: b } }: Leg, { from, segment: { to } }: Leg): Span[] {
  const length = distance(a, b);
  const unit = { x: (b.x - a.x) / length, y: (b.y - a.y) / length };
  const [c, d] = [from, to].map((p) => ({
    along: (p.x - a.x) * unit.x + (p.y - a.y) * unit.y,
    across: (p.y - a.y) * unit.x - (p.x - a.x) * unit.y,
  }));
  if (c === undefined || d === undefined || c.along === d.along) return [];
  const low = Math.max(0, Math.min(c.along, d.along));
  const high = Math.min(length, Math.max(c.along, d.along));
  const acrossAt = (along: number): number =>
    c.across + ((along - c.along) / (d.along - c.along)) * (d.across - c.across);
  const isOn = [low, high].every((along) => Math.abs(acrossAt(along)) <= SAME_MM);
  return high > low && isOn ? [[low / length, high / length]] : [];
}

const TURN = 2 * Math.PI;

function sharedArc(from: Point, arc: Arc, otherFrom: Point, other: Arc): Span[] {
  const radius = arcRadius(from, arc);
  const isSameCircle =
    distance(arc.centre, other.centre) + Math.abs(radius - arcRadius(otherFrom, other)) <= SAME_MM;
  if (!isSameCircle) return [];
  const sign = Math.sign(arc.sweepRad);
  const sweep = Math.abs(arc.sweepRad);
  const runsAlong = Math.sign(other.sweepRad) === sign;
  const begin = arcStartAngle(otherFrom, other) + (runsAlong ? 0 : other.sweepRad);
  const turned = (begin - arcStartAngle(from, arc)) * sign;
  const offset = turned - TURN * Math.floor(turned / TURN);
  return [offset - TURN, offset]
    .map((start): Span => [start / sweep, (start + Math.abs(other.sweepRad)) / sweep])
    .filter(([start, end]) => end > 0 && start < 1);
}

function taken({ place }: PlacedPath, leg: Leg | undefined, [from, to]: Span): Doubled {
  if (leg === undefined) throw new RangeError("a stretch of no leg");
  return {
    place,
    from: legPoint(leg, from),
    lengthMm: (to - from) * pathLength(alone(leg)),
  };
}

/** What remains of an open path once stretches of its legs are gone. */
function leftOver(path: Path, gaps: readonly (readonly Span[])[]): Path[] {
  const pieces: Path[] = [];
  let start = path.start;
  let segments: Segment[] = [];
  const lift = (next: Point): void => {
    if (segments.length > 0) pieces.push({ start, segments, closed: false });
    [start, segments] = [next, []];
  };
  for (const [index, leg] of legsOf(path).entries()) {
    let at = 0;
    for (const [from, to] of gaps[index] ?? []) {
      if (from > at) segments.push(legPart(leg, at, from).segment);
      lift(legPoint(leg, to));
      at = to;
    }
    if (at < 1) segments.push(legPart(leg, at, 1).segment);
  }
  lift(start);
  return pieces;
}
