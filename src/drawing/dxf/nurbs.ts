import { add, distance, scaled, subtract } from "../../geometry/point.ts";
import type { Point, Segment } from "../../geometry/types.ts";

/** Rational B-splines as lines and cubics. */

export interface Nurbs {
  readonly degree: number;
  /** Never falling, as many as control points and degree and one more. */
  readonly knots: readonly number[];
  readonly controls: readonly Weighted[];
}

/** A point with its weight multiplied in: x w, y w, w. */
export interface Weighted {
  readonly x: number;
  readonly y: number;
  readonly w: number;
}

/** A stretch between two knots, from its own start. */
export interface Span {
  readonly start: Point;
  readonly segments: readonly Segment[];
}

/**
 * The spans in order. Degrees 1 to 3 with equal weights are exact; higher degrees and unequal
 * weights become cubics that touch the curve at their ends and stay within the tolerance.
 */
export function nurbsSpans(nurbs: Nurbs, tolerance: number): Span[] {
  const { degree, knots, controls } = nurbs;
  const within = Math.max(tolerance, ROUNDING * largestOf(controls));
  const spans: Span[] = [];
  for (let index = degree; index < controls.length; index++) {
    const [from, to] = [at(knots, index), at(knots, index + 1)];
    if (!(from < to)) continue;
    const bezier = bezierOf(nurbs, index);
    const start = projected(at(bezier, 0));
    spans.push({ start, segments: exact(bezier) ?? fitted(bezier, 0, 1, within, MOST_HALVINGS) });
  }
  return spans;
}

/** Of the largest coordinate: nothing can be told apart more finely. */
const ROUNDING = 1e-11;

function largestOf(controls: readonly Weighted[]): number {
  return controls
    .map(projected)
    .reduce((most, { x, y }) => Math.max(most, Math.abs(x), Math.abs(y)), 0);
}

/**
 * Control points of a span by its polar form: ever more arguments move from its start to its end.
 * (L. Ramshaw, Blossoms are polar forms, Computer Aided Geometric Design 6, 1989.)
 */
function bezierOf({ degree, knots, controls }: Nurbs, span: number): Weighted[] {
  const [from, to] = [at(knots, span), at(knots, span + 1)];
  return Array.from({ length: degree + 1 }, (_, ends) => {
    let row = controls.slice(span - degree, span + 1);
    for (let round = 1; round <= degree; round++) {
      const argument = round <= degree - ends ? from : to;
      row = row.slice(1).map((b, index) => {
        const [low, high] = [at(knots, span - degree + round + index), at(knots, span + 1 + index)];
        return between(at(row, index), b, (argument - low) / (high - low));
      });
    }
    return at(row, 0);
  });
}

/** Equal but for the last binary places. */
const SAME_WEIGHT = 1e-12;

/** Null where no line or cubic is the same curve. */
function exact(bezier: readonly Weighted[]): Segment[] | null {
  const { w } = at(bezier, 0);
  const isRational = bezier.some((each) => Math.abs(each.w - w) > SAME_WEIGHT * w);
  if (isRational || bezier.length > 4) return null;
  const [a, b, c, d] = bezier.map(projected);
  if (a === undefined || b === undefined) throw new RangeError("a spline of degree 0");
  if (c === undefined) return [{ kind: "line", to: b }];
  if (d !== undefined) return [{ kind: "cubic", control1: b, control2: c, to: d }];
  const towards = (end: Point): Point => add(end, scaled(subtract(b, end), 2 / 3));
  return [{ kind: "cubic", control1: towards(a), control2: towards(c), to: c }];
}

const MOST_HALVINGS = 16;
/** Points of a cubic that are compared with the curve. */
const COMPARED = 16;
/** Of the tolerance, so that what lies between compared points keeps it too. */
const SHARE = 0.5;

/** The cubic with the curve's ends and derivatives there, halved until it is near enough. */
function fitted(
  bezier: readonly Weighted[],
  from: number,
  to: number,
  tolerance: number,
  halvings: number,
): Segment[] {
  const [a, b] = [stationOf(bezier, from), stationOf(bezier, to)];
  const reach = (to - from) / 3;
  const control1 = add(a.point, scaled(a.velocity, reach));
  const control2 = subtract(b.point, scaled(b.velocity, reach));
  const cubic = [a.point, control1, control2, b.point].map(unweighted);
  let furthest = 0;
  for (let index = 1; index < COMPARED; index++) {
    const share = index / COMPARED;
    const { point } = stationOf(bezier, from + share * (to - from));
    furthest = Math.max(furthest, distance(point, stationOf(cubic, share).point));
  }
  if (!(furthest > SHARE * tolerance) || halvings === 0)
    return [{ kind: "cubic", control1, control2, to: b.point }];
  const middle = (from + to) / 2;
  return [
    ...fitted(bezier, from, middle, tolerance, halvings - 1),
    ...fitted(bezier, middle, to, tolerance, halvings - 1),
  ];
}

/**
 * Point and derivative by de Casteljau's steps on the weighted points; the derivative of the quotient
 * as in Piegl and Tiller, The NURBS Book, section 4.3.
 */
function stationOf(bezier: readonly Weighted[], t: number): { point: Point; velocity: Point } {
  let row = bezier;
  while (row.length > 2) row = row.slice(1).map((b, index) => between(at(row, index), b, t));
  const [a, b] = [at(row, 0), at(row, 1)];
  const here = between(a, b, t);
  const point = projected(here);
  const factor = (bezier.length - 1) / here.w;
  const velocity = {
    x: factor * (b.x - a.x - point.x * (b.w - a.w)),
    y: factor * (b.y - a.y - point.y * (b.w - a.w)),
  };
  return { point, velocity };
}

function between(a: Weighted, b: Weighted, share: number): Weighted {
  return {
    x: a.x + share * (b.x - a.x),
    y: a.y + share * (b.y - a.y),
    w: a.w + share * (b.w - a.w),
  };
}

function projected({ x, y, w }: Weighted): Point {
  return { x: x / w, y: y / w };
}

function unweighted({ x, y }: Point): Weighted {
  return { x, y, w: 1 };
}

function at<T>(items: readonly T[], index: number): T {
  const item = items[index];
  if (item === undefined) throw new RangeError(`item ${index} of ${items.length}`);
  return item;
}
