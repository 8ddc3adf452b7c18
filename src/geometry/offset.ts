import { arcRadius, arcStartAngle } from "./arc.ts";
import { comeNearer } from "./clearance.ts";
import { firstCrossing } from "./crossing.ts";
import { flattenPath } from "./flatten.ts";
import { legCurvature, legPart, legPoint, legRate } from "./leg.ts";
import { legsOf, pathArea, pathLength } from "./path.ts";
import type { Leg } from "./path.ts";
import { add, cross, distance, dot, scaled, subtract } from "./point.ts";
import type { Path, Point, Segment } from "./types.ts";

/** A closed path moved sideways, its lines, arcs and curves kept as such. */

/** How far a moved curve may lie from its true place, mm; lines and arcs are exact. */
export const OFFSET_TOLERANCE_MM = 0.002;

/**
 * The path moved to its right by a distance: outwards for a counter-clockwise one, inwards for a
 * clockwise one. Outer corners of lines stay corners, as far as four distances out; sharper ones,
 * and those of curves, are rounded; legs that the move uses up are left out.
 * @returns null where no simple path remains: a hole, a neck or a nook narrower than twice the
 * distance.
 */
export function offsetPath(path: Path, mm: number): Path | null {
  if (!path.closed || !(mm > 0)) throw new RangeError(`offset of ${mm} mm`);
  const moved = legsOf(path)
    .filter(({ from, segment }) => segment.kind !== "line" || distance(from, segment.to) > SAME_MM)
    .flatMap((leg) => movedLeg(leg, mm, MOST_HALVINGS));
  const ring = joined(moved, mm);
  if (ring === null) return null;
  const result = pathOf(ring);
  return isSound(path, result, mm) ? result : null;
}

/**
 * Looked at by other means than it was made by: simple, the same way round, nowhere nearer to the
 * path than it was to be moved, and not grown by more than twice what its length makes.
 */
function isSound(path: Path, result: Path, mm: number): boolean {
  const points = flattenPath(result, CHECK_MM);
  const grown = pathArea(result) - pathArea(path);
  return (
    points.length > 2 &&
    pathArea(result) > 0 === pathArea(path) > 0 &&
    grown < 2 * mm * (pathLength(path) + MITRE_LIMIT * 2 * mm) &&
    firstCrossing([points]) === null &&
    !comeNearer(flattenPath(path, CHECK_MM), points, mm - OFFSET_TOLERANCE_MM - 2 * CHECK_MM)
  );
}

/** Points nearer to each other are one. */
const SAME_MM = 1e-6;

/** Ends that miss each other by less are brought together. */
const SNAP_MM = 1e-4;

const MOST_HALVINGS = 10;

/** Outer corners reach at most this many distances from the corner they go round. */
const MITRE_LIMIT = 4;

/** Polygons of the two paths lie so near to them. */
const CHECK_MM = 0.002;

/** A moved leg, of which the stretch from `begin` to `end` is used. */
interface Piece {
  readonly leg: Leg;
  /** Where the path had its corner, at the start of the leg. */
  readonly corner: Point;
  begin: number;
  end: number;
}

function movedLeg(leg: Leg, mm: number, halvings: number): Piece[] {
  const { segment } = leg;
  if (segment.kind === "line") return [pieceOf(leg, movedLine(leg, mm))];
  if (segment.kind === "arc") {
    const arc = movedArc(leg, segment, mm);
    return arc === null ? [] : [pieceOf(leg, arc)];
  }
  const cubic = movedCubic(leg, mm);
  if (halvings === 0 || isTrue(leg, cubic, mm)) return [pieceOf(leg, cubic)];
  return [legPart(leg, 0, 0.5), legPart(leg, 0.5, 1)].flatMap((half) =>
    movedLeg(half, mm, halvings - 1),
  );
}

function pieceOf({ from }: Leg, leg: Leg): Piece {
  return { leg, corner: from, begin: 0, end: 1 };
}

function movedLine({ from, segment }: Leg, mm: number): Leg {
  const move = scaled(rightOf(subtract(segment.to, from)), mm);
  return { from: add(from, move), segment: { kind: "line", to: add(segment.to, move) } };
}

/** Null where the radius is used up. */
function movedArc({ from }: Leg, arc: Segment & { kind: "arc" }, mm: number): Leg | null {
  const radius = arcRadius(from, arc);
  const grown = radius + Math.sign(arc.sweepRad) * mm;
  if (grown <= SAME_MM) return null;
  const away = (point: Point): Point =>
    add(arc.centre, scaled(subtract(point, arc.centre), grown / radius));
  return { from: away(from), segment: { ...arc, to: away(arc.to) } };
}

/**
 * The cubic with the true ends and the true derivatives there: those of the curve times
 * 1 + distance * curvature (plane differential geometry, parallel curves).
 */
function movedCubic(leg: Leg, mm: number): Leg {
  const from = movedPoint(leg, 0, mm);
  const to = movedPoint(leg, 1, mm);
  const handle = (t: number): Point => scaled(legRate(leg, t), (1 + mm * legCurvature(leg, t)) / 3);
  const [control1, control2] = [add(from, handle(0)), subtract(to, handle(1))];
  return { from, segment: { kind: "cubic", control1, control2, to } };
}

function isTrue(leg: Leg, moved: Leg, mm: number): boolean {
  return [0.2, 0.5, 0.8].every((t) => {
    const off = dot(subtract(legPoint(moved, t), legPoint(leg, t)), rightAt(leg, t));
    return Math.abs(off - mm) <= OFFSET_TOLERANCE_MM;
  });
}

function movedPoint(leg: Leg, t: number, mm: number): Point {
  return add(legPoint(leg, t), scaled(rightAt(leg, t), mm));
}

function rightAt(leg: Leg, t: number): Point {
  const rate = legRate(leg, t);
  if (Math.hypot(rate.x, rate.y) > SAME_MM) return rightOf(rate);
  // A handle of no length: the direction a little further inside.
  return rightOf(legRate(leg, t < 0.5 ? 1e-3 : 1 - 1e-3));
}

/** Unit vector to the right of a direction. */
function rightOf({ x, y }: Point): Point {
  const length = Math.hypot(x, y);
  return length === 0 ? { x: 0, y: 0 } : { x: y / length, y: -x / length };
}

/**
 * Cuts pieces that run into each other back to where they meet, and drops those of which nothing
 * remains. Null when two neighbours can not be brought together.
 */
function joined(pieces: readonly Piece[], mm: number): Piece[] | null {
  const ring = [...pieces];
  let index = 0;
  // Each turn either goes on or drops a piece and looks at its neighbours again.
  for (let settled = 0; settled < ring.length;) {
    // Of several pieces one alone does not close.
    if (ring.length < 2) return pieces.length === 1 ? ring : null;
    index %= ring.length;
    const after = (index + 1) % ring.length;
    const [one, next] = [ring[index], ring[after]];
    if (one === undefined || next === undefined || !meet(one, next, mm)) return null;
    const lost = one.end - one.begin <= 0 ? index : next.end - next.begin <= 0 ? after : null;
    if (lost === null) {
      settled++;
      index++;
      continue;
    }
    ring.splice(lost, 1);
    index = (lost - 1 + ring.length) % ring.length;
    const neighbours = [ring[index], ring[(index + 1) % ring.length]];
    if (neighbours[0] !== undefined) neighbours[0].end = 1;
    if (neighbours[1] !== undefined) neighbours[1].begin = 0;
    settled = Math.max(0, settled - 2);
  }
  return ring;
}

/** Sets the end of one and the begin of the next; a round gap is left to `pathOf`. */
function meet(one: Piece, next: Piece, mm: number): boolean {
  const [end, start] = [legPoint(one.leg, 1), legPoint(next.leg, 0)];
  if (distance(end, start) <= SNAP_MM) return true;
  const opens = opensRound(next.corner, one, next, mm);
  const straight = one.leg.segment.kind === "line" && next.leg.segment.kind === "line";
  if (opens && !straight) return true;
  const found = intersection(one.leg, next.leg);
  const reach = found === null ? Infinity : distance(legPoint(one.leg, found[0]), next.corner);
  if (opens && reach > MITRE_LIMIT * mm) return true;
  if (found === null || overruns(one.leg, next.leg, found, mm)) return false;
  [one.end, next.begin] = found;
  return true;
}

/** Whether the path turns left there, so that the moved pieces part, round their common corner. */
function opensRound(corner: Point, one: Piece, next: Piece, mm: number): boolean {
  const ends = [legPoint(one.leg, 1), legPoint(next.leg, 0)];
  const round = ends.every((end) => Math.abs(distance(end, corner) - mm) < SNAP_MM);
  return round && cross(legRate(one.leg, 1), legRate(next.leg, 0)) > 0;
}

/** Whether the legs would have to be drawn out much further than a corner reaches. */
function overruns(one: Leg, next: Leg, [s, t]: readonly [number, number], mm: number): boolean {
  const most = MITRE_LIMIT * mm;
  const past = s > 1 ? distance(legPoint(one, s), legPoint(one, 1)) : 0;
  const before = t < 0 ? distance(legPoint(next, t), legPoint(next, 0)) : 0;
  return past > most || before > most;
}

/** Where the end of one leg crosses the start of the next, by Newton's method. */
function intersection(one: Leg, next: Leg): [number, number] | null {
  let [s, t] = [1, 0];
  for (let step = 0; step < 40; step++) {
    const gap = subtract(legPoint(next, t), legPoint(one, s));
    if (Math.hypot(gap.x, gap.y) < SAME_MM / 100) return [s, t];
    const [a, b] = [legRate(one, s), legRate(next, t)];
    const turn = cross(a, b);
    if (turn === 0) return null;
    s += cross(gap, b) / turn;
    t += cross(gap, a) / turn;
    if (!(Math.abs(s) < 1e3 && Math.abs(t) < 1e3)) return null;
  }
  return null;
}

function pathOf(ring: readonly Piece[]): Path {
  const legs = ring.map(({ leg, begin, end }) => legPart(leg, begin, end));
  const segments = legs.flatMap(({ segment }, index) => {
    const after = (index + 1) % legs.length;
    const [next, piece] = [legs[after], ring[after]];
    if (next === undefined || piece === undefined) return [segment];
    if (distance(segment.to, next.from) <= SNAP_MM) return [{ ...segment, to: next.from }];
    return [segment, roundCorner(segment.to, next.from, piece.corner)];
  });
  const start = legs[0]?.from ?? { x: 0, y: 0 };
  return { start, segments, closed: true };
}

/** Left about an outer corner of the path. */
function roundCorner(from: Point, to: Point, centre: Point): Segment {
  const arc = { kind: "arc", to, centre, sweepRad: 0 } as const;
  const sweepRad = arcStartAngle(to, arc) - arcStartAngle(from, arc);
  return { ...arc, sweepRad: sweepRad < 0 ? sweepRad + 2 * Math.PI : sweepRad };
}
