import { cubicLength } from "../geometry/cubic.ts";
import { legCurvature, legPart, legPoint, legRate } from "../geometry/leg.ts";
import { legLength, legsOf } from "../geometry/path.ts";
import type { Leg } from "../geometry/path.ts";
import { distance } from "../geometry/point.ts";
import type { Path, Point } from "../geometry/types.ts";

/** A path as speed sees it: how bent it is from place to place, whatever the feed and the machine. */

/** One for each stretch, in their order; radii in mm, infinite where nothing slows. */
export interface Stretches {
  readonly lengthsMm: readonly number[];
  /** Of the curve. */
  readonly radiiMm: readonly number[];
  /** Of the arc that stands for the corner after each but the last. */
  readonly cornersMm: readonly number[];
}

/**
 * A corner is as fast as the arc that misses it by the tolerance d: of radius d sin h / (1 - sin h), h
 * half of the angle between the sides (plane geometry; the tolerance as in Sencer, Ishizaki and Shamoto
 * 2014, doi 10.1007/s00170-014-6386-2). The arc has to go into half of the shorter side, so that the
 * chords of a flattened curve come out with the radius of the curve, and no slower the more there are.
 * Vertices nearer to each other than the tolerance are no corners of their own.
 */
export function stretchesOf(path: Path, toleranceMm: number): Stretches {
  const pieces = piecesOf(path, toleranceMm);
  const lengthsMm: number[] = [];
  const radiiMm: number[] = [];
  const cornersMm: number[] = [];
  for (const [index, piece] of pieces.entries()) {
    const next = pieces[index + 1];
    for (const [part, { lengthMm, radiusMm }] of piece.parts.entries()) {
      lengthsMm.push(lengthMm);
      radiiMm.push(radiusMm);
      if (part + 1 < piece.parts.length) cornersMm.push(Infinity);
    }
    if (next !== undefined) cornersMm.push(cornerRadius(piece, next, toleranceMm));
  }
  return { lengthsMm, radiiMm, cornersMm };
}

interface Part {
  readonly lengthMm: number;
  readonly radiusMm: number;
}

/** What is smooth by itself: a straight line, an arc, a curve. */
interface Piece {
  readonly parts: readonly Part[];
  readonly lengthMm: number;
  /** Of any length. */
  readonly begins: Point;
  readonly ends: Point;
}

function piecesOf(path: Path, toleranceMm: number): readonly Piece[] {
  const pieces: Piece[] = [];
  let from = path.start;
  let [straightMm, leftMm] = [0, 0];
  const add = (piece: Piece): void => {
    pieces.push(leftMm === 0 ? piece : lengthened(piece, leftMm));
    leftMm = 0;
  };
  /** Too short to have a direction of its own. */
  const leave = (): void => {
    const last = pieces.pop();
    if (last === undefined) leftMm += straightMm;
    else pieces.push(lengthened(last, straightMm));
    straightMm = 0;
  };
  for (const leg of legsOf(path)) {
    if (leg.segment.kind === "line") {
      straightMm += legLength(leg);
      const apart = distance(from, leg.segment.to);
      if (apart < toleranceMm || apart === 0) continue;
      add(straight(from, leg.segment.to, straightMm));
      straightMm = 0;
    } else {
      if (straightMm > 0) leave();
      const lengthMm = legLength(leg);
      if (lengthMm > 0) add(curved(leg, lengthMm));
    }
    from = leg.segment.to;
  }
  if (straightMm > 0) leave();
  return pieces.length === 0 && leftMm > 0 ? [straight(from, from, leftMm)] : pieces;
}

function lengthened(piece: Piece, moreMm: number): Piece {
  const [first, ...others] = piece.parts;
  if (first === undefined) return piece;
  const longer = { ...first, lengthMm: first.lengthMm + moreMm };
  return { ...piece, parts: [longer, ...others], lengthMm: piece.lengthMm + moreMm };
}

function straight(from: Point, to: Point, lengthMm: number): Piece {
  const along = { x: to.x - from.x, y: to.y - from.y };
  return { parts: [{ lengthMm, radiusMm: Infinity }], lengthMm, begins: along, ends: along };
}

function curved(leg: Leg, lengthMm: number): Piece {
  const [begins, ends] = [rateAt(leg, 0), rateAt(leg, 1)];
  if (leg.segment.kind === "arc")
    return { parts: [{ lengthMm, radiusMm: 1 / bendAt(leg, 0.5) }], lengthMm, begins, ends };
  const parts: Part[] = [];
  partCurve(leg, 0, 1, 0, parts);
  return { parts, lengthMm, begins, ends };
}

/** Halves a curve until it is bent about evenly. */
function partCurve(leg: Leg, begin: number, end: number, halvings: number, parts: Part[]): void {
  const middle = (begin + end) / 2;
  const bends = [begin, middle, end].map((t) => Math.sqrt(bendAt(leg, t)));
  const uneven = Math.max(...bends) > EVEN * Math.min(...bends);
  if (halvings < LEAST_HALVINGS || (uneven && halvings < MOST_HALVINGS)) {
    partCurve(leg, begin, middle, halvings + 1, parts);
    partCurve(leg, middle, end, halvings + 1, parts);
    return;
  }
  const { from, segment } = legPart(leg, begin, end);
  const lengthMm = segment.kind === "cubic" ? cubicLength(from, segment) : 0;
  if (lengthMm > 0) parts.push({ lengthMm, radiusMm: 1 / bendAt(leg, middle) });
}

/** How far speeds within a part may differ. */
const EVEN = 1.05;
const LEAST_HALVINGS = 2;
const MOST_HALVINGS = 9;

/** 1/mm. What is bent less than a circle of ten metres slows nothing. */
function bendAt(leg: Leg, t: number): number {
  return Math.max(1e-4, Math.abs(legCurvature(leg, t)));
}

/** Where a curve stands still at an end, the way to a point near by. */
function rateAt(leg: Leg, t: number): Point {
  const rate = legRate(leg, t);
  if (Math.hypot(rate.x, rate.y) > 0) return rate;
  const [a, b] = t === 0 ? [0, NEAR] : [1 - NEAR, 1];
  const [from, to] = [legPoint(leg, a), legPoint(leg, b)];
  return { x: to.x - from.x, y: to.y - from.y };
}

const NEAR = 1e-3;

function cornerRadius(before: Piece, after: Piece, toleranceMm: number): number {
  const { ends: a } = before;
  const { begins: b } = after;
  const half = Math.abs(Math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y)) / 2;
  if (half < STRAIGHT_RAD) return Infinity;
  const [sine, cosine] = [Math.sin(half), Math.cos(half)];
  // 1 - cos as 2 sin^2, for small turns would drown in rounding.
  const missed = (toleranceMm * cosine) / (2 * Math.sin(half / 2) ** 2);
  const within = ((Math.min(before.lengthMm, after.lengthMm) / 2) * cosine) / sine;
  return Math.min(missed, within);
}

const STRAIGHT_RAD = 1e-7;
