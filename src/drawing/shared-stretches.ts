import { arcRadius, arcStartAngle } from "../geometry/arc.ts";
import type { Arc } from "../geometry/arc.ts";
import { flattenPath } from "../geometry/flatten.ts";
import { legPart, legPoint } from "../geometry/leg.ts";
import { legsOf, pathLength } from "../geometry/path.ts";
import type { Leg } from "../geometry/path.ts";
import { distance } from "../geometry/point.ts";
import type { Path, Point, Segment } from "../geometry/types.ts";
import { SideGrid } from "./side-grid.ts";
import type { Side } from "./side-grid.ts";
import { SAME_MM } from "./twins.ts";
import { JOIN_MM } from "./weld.ts";

/** Stretches of straight lines and arcs that lie on earlier lines, found and taken away. */

/** From and to, in shares of a leg. */
export type Span = readonly [number, number];

export interface Covered {
  /** For each leg of the path its stretches that lie on others, in order, apart from each other. */
  readonly spans: readonly (readonly Span[])[];
  /** Numbers of the paths that they lie on; its own among them where it runs over itself. */
  readonly by: ReadonlySet<number>;
}

/**
 * For each path what of it lies on earlier ones, or on earlier stretches of itself.
 * @param whole how many of the first paths are kept as they are: nothing is looked for on them.
 */
export function coveredStretches(paths: readonly Path[], whole = 0): Covered[] {
  const legs = paths.flatMap(legsOf);
  const pathOf = paths.flatMap(({ segments }, path) => segments.map(() => path));
  const near = nearLegs(legs);
  let first = 0;
  return paths.map(({ segments }, path) => {
    const own = segments.map((_, index) => first + index);
    first += own.length;
    const by = new Set<number>();
    if (path < whole) return { spans: [], by };
    const spans = own.map((index) => {
      const found = covered(index, legs, near(index));
      for (const other of found.by) by.add(pathOf[other] ?? 0);
      return found.spans;
    });
    return { spans, by };
  });
}

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

/** The stretches of a leg that lie on others, in order, apart from each other, and those others. */
function covered(
  index: number,
  legs: readonly Leg[],
  others: readonly number[],
): { readonly spans: readonly Span[]; readonly by: readonly number[] } {
  const leg = legs[index];
  if (leg === undefined || leg.segment.kind === "cubic") return { spans: [], by: [] };
  const length = pathLength(alone(leg));
  const stretches = others.flatMap((other) =>
    shared(leg, legs[other])
      .map(([from, to]): Span => [Math.max(0, from), Math.min(1, to)])
      .filter(([from, to]) => (to - from) * length > JOIN_MM)
      .map((span) => ({ span, other })),
  );
  const spans = united(
    stretches.map(({ span }) => span).sort(([a], [b]) => a - b),
    JOIN_MM / length,
  );
  return { spans, by: stretches.map(({ other }) => other) };
}

/** Crumbs too short to be joined are taken away with the stretches beside them. */
function united(spans: readonly Span[], crumb: number): readonly Span[] {
  const found: [number, number][] = [];
  for (const [from, to] of spans) {
    const last = found.at(-1);
    if (last !== undefined && from - last[1] <= crumb) last[1] = Math.max(last[1], to);
    else found.push([from <= crumb ? 0 : from, to]);
  }
  return found.map(([from, to]) => [from, to >= 1 - crumb ? 1 : to]);
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

/**
 * What remains of a path once stretches of its legs are gone: the path itself where none is, else
 * open ones. What is left at the start of a closed path goes on from what is left at its end.
 */
export function leftOver(path: Path, gaps: readonly (readonly Span[])[]): readonly Path[] {
  if (gaps.every((spans) => spans.length === 0)) return [path];
  const pieces = openPieces(path, gaps);
  const [first, ...rest] = pieces;
  const last = rest.pop();
  const isWhole = path.closed && gaps[0]?.[0]?.[0] !== 0 && gaps.at(-1)?.at(-1)?.[1] !== 1;
  if (!isWhole || first === undefined || last === undefined) return pieces;
  return [...rest, { ...last, segments: [...last.segments, ...first.segments] }];
}

function openPieces(path: Path, gaps: readonly (readonly Span[])[]): Path[] {
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
