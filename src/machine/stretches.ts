import { cubicLength } from "../geometry/cubic.ts";
import type { Cubic } from "../geometry/cubic.ts";
import { legCurvature, legPart, legPoint, legRate } from "../geometry/leg.ts";
import { legLength, legsOf } from "../geometry/path.ts";
import type { Leg } from "../geometry/path.ts";
import { distance } from "../geometry/point.ts";
import type { Path, Point } from "../geometry/types.ts";
import { cornerRadii, STRAIGHT_RAD } from "./corners.ts";

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
 * Vertices nearer to each other than the tolerance are no corners of their own, and a fillet that
 * misses its corner by less than the tolerance is passed as the corner; see {@link cornerRadii}.
 */
export function stretchesOf(
  path: Path,
  toleranceMm: number,
  bends: KnownBends = new KnownBends(),
): Stretches {
  const lengthsMm: number[] = [];
  const radiiMm: number[] = [];
  const turnsRad: number[] = [];
  let before: Piece | null = null;
  for (const piece of piecesOf(path, toleranceMm, bends)) {
    for (const [part, { lengthMm, radiusMm }] of piece.parts.entries()) {
      const turnRad = part === 0 && before !== null ? turnOf(before.ends, piece.begins) : 0;
      if (lengthsMm.length > 0) turnsRad.push(turnRad);
      lengthsMm.push(lengthMm);
      radiiMm.push(radiusMm);
    }
    before = piece;
  }
  const cornersMm = cornerRadii({ lengthsMm, radiiMm, turnsRad }, toleranceMm);
  return { lengthsMm, radiiMm, cornersMm };
}

interface Part {
  readonly lengthMm: number;
  readonly radiusMm: number;
}

/** What is smooth by itself: a straight line, an arc, a curve. */
interface Piece {
  readonly parts: readonly Part[];
  /** Of any length. */
  readonly begins: Point;
  readonly ends: Point;
}

function piecesOf(path: Path, toleranceMm: number, bends: KnownBends): readonly Piece[] {
  const gathering = new Gathering(path.start, toleranceMm, bends);
  for (const leg of inWholeLines(legsOf(path))) gathering.take(leg);
  return gathering.pieces();
}

/** Takes one leg after the other. */
class Gathering {
  readonly #toleranceMm: number;
  readonly #bends: KnownBends;
  readonly #pieces: Piece[] = [];
  /** Of the straight line under way. */
  #from: Point;
  #straightMm = 0;
  /** Curves since the last line. */
  #curves: Leg[] = [];
  /** Of what came before the first piece and is none itself. */
  #leftMm = 0;

  constructor(start: Point, toleranceMm: number, bends: KnownBends) {
    this.#from = start;
    this.#toleranceMm = toleranceMm;
    this.#bends = bends;
  }

  take(leg: Leg): void {
    const { segment } = leg;
    if (segment.kind !== "line") {
      this.#leave(this.#straightMm);
      this.#straightMm = 0;
      this.#curves.push(leg);
      this.#from = segment.to;
      return;
    }
    this.#straightMm += legLength(leg);
    const apart = distance(this.#from, segment.to);
    // Too short to have a direction of its own.
    if (apart < this.#toleranceMm || apart === 0) return;
    this.#endCurves(true);
    this.#add(straight(this.#from, segment.to, this.#straightMm));
    this.#straightMm = 0;
    this.#from = segment.to;
  }

  pieces(): readonly Piece[] {
    this.#endCurves(false);
    this.#leave(this.#straightMm);
    if (this.#pieces.length > 0 || this.#leftMm === 0) return this.#pieces;
    return [straight(this.#from, this.#from, this.#leftMm)];
  }

  /** Between two lines, curves that round a corner no more than the tolerance does are that corner. */
  #endCurves(beforeLine: boolean): void {
    const curves = this.#curves;
    this.#curves = [];
    if (beforeLine && this.#pieces.length > 0 && isCorner(curves, this.#toleranceMm)) {
      this.#leave(curves.reduce((sum, leg) => sum + legLength(leg), 0));
      return;
    }
    for (const leg of curves) {
      const { parts } = this.#bends.of(leg);
      if (parts.length > 0) this.#add({ parts, begins: rateAt(leg, 0), ends: rateAt(leg, 1) });
    }
  }

  #add(piece: Piece): void {
    this.#pieces.push(this.#leftMm === 0 ? piece : lengthened(piece, this.#leftMm));
    this.#leftMm = 0;
  }

  #leave(lengthMm: number): void {
    if (lengthMm === 0) return;
    const last = this.#pieces.pop();
    if (last === undefined) this.#leftMm += lengthMm;
    else this.#pieces.push(lengthened(last, lengthMm));
  }
}

/** Whether curves in a row come as near as the tolerance to where the lines along their ends meet. */
function isCorner(curves: readonly Leg[], toleranceMm: number): boolean {
  const [first, last] = [curves[0], curves.at(-1)];
  if (first === undefined || last === undefined) return false;
  const [u, w] = [rateAt(first, 0), rateAt(last, 1)];
  const turn = u.x * w.y - u.y * w.x;
  if (turn === 0) return false;
  const { x, y } = way(first.from, last.segment.to);
  const [on, back] = [(x * w.y - y * w.x) / turn, (u.x * y - u.y * x) / turn];
  if (on < 0 || back < 0) return false;
  const corner = { x: first.from.x + on * u.x, y: first.from.y + on * u.y };
  return curves.some((leg) =>
    [0.25, 0.5, 0.75, 1].some((t) => distance(corner, legPoint(leg, t)) <= toleranceMm),
  );
}

/** A straight line that comes in pieces, however short, is one. */
function inWholeLines(legs: readonly Leg[]): readonly Leg[] {
  const whole: Leg[] = [];
  for (const leg of legs) {
    const last = whole.at(-1);
    const goesOn =
      last?.segment.kind === "line" &&
      leg.segment.kind === "line" &&
      turnOf(way(last.from, last.segment.to), way(leg.from, leg.segment.to)) < STRAIGHT_RAD;
    if (goesOn) whole[whole.length - 1] = { from: last.from, segment: leg.segment };
    else whole.push(leg);
  }
  return whole;
}

function lengthened(piece: Piece, moreMm: number): Piece {
  const [first, ...others] = piece.parts;
  if (first === undefined) return piece;
  const longer = { ...first, lengthMm: first.lengthMm + moreMm };
  return { ...piece, parts: [longer, ...others] };
}

function straight(from: Point, to: Point, lengthMm: number): Piece {
  const along = way(from, to);
  return { parts: [{ lengthMm, radiusMm: Infinity }], begins: along, ends: along };
}

/**
 * How curves are bent, each worked out once: copies of a part have the same ones, moved, turned or
 * mirrored. A curve is known again by the shape of its control polygon.
 */
export class KnownBends {
  readonly #known = new Map<string, Bends>();

  lengthOf(path: Path): number {
    return legsOf(path).reduce(
      (sum, leg) => sum + (leg.segment.kind === "cubic" ? this.of(leg).lengthMm : legLength(leg)),
      0,
    );
  }

  of(leg: Leg): Bends {
    if (leg.segment.kind !== "cubic") return bendsOf(leg);
    const key = shapeOf(leg.from, leg.segment);
    const known = this.#known.get(key);
    if (known !== undefined) return known;
    const bends = bendsOf(leg);
    this.#known.set(key, bends);
    return bends;
  }
}

interface Bends {
  readonly lengthMm: number;
  /** None where the curve has no length. */
  readonly parts: readonly Part[];
}

function bendsOf(leg: Leg): Bends {
  const lengthMm = legLength(leg);
  if (lengthMm === 0) return { lengthMm, parts: [] };
  if (leg.segment.kind === "arc")
    return { lengthMm, parts: [{ lengthMm, radiusMm: 1 / bendAt(leg, 0.5) }] };
  const parts: Part[] = [];
  partCurve(leg, 0, 1, 0, parts);
  return { lengthMm, parts };
}

/** Its six sides and diagonals, to a millionth of a mm: no two curves of one shape have others. */
function shapeOf(from: Point, { control1, control2, to }: Cubic): string {
  const corners = [from, control1, control2, to];
  return corners
    .flatMap((a, index) => corners.slice(index + 1).map((b) => Math.round(distance(a, b) * FINE)))
    .join(" ");
}

const FINE = 1e6;

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
  return way(legPoint(leg, a), legPoint(leg, b));
}

const NEAR = 1e-3;

function way(from: Point, to: Point): Point {
  return { x: to.x - from.x, y: to.y - from.y };
}

/** From 0 to pi. */
function turnOf(a: Point, b: Point): number {
  return Math.abs(Math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y));
}
