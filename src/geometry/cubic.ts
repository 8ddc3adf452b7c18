import type { Point, Segment } from "./types.ts";

/** Cubic Bezier curves. */

export type Cubic = Extract<Segment, { kind: "cubic" }>;

/** Point at parameter t, 0 to 1; exactly the ends at 0 and 1. */
export function cubicPoint(from: Point, cubic: Cubic, t: number): Point {
  if (t === 0) return from;
  if (t === 1) return cubic.to;
  return {
    x: bernstein(from.x, cubic.control1.x, cubic.control2.x, cubic.to.x, t),
    y: bernstein(from.y, cubic.control1.y, cubic.control2.y, cubic.to.y, t),
  };
}

/** Derivative by the parameter. */
export function cubicRate(from: Point, { control1, control2, to }: Cubic, t: number): Point {
  return {
    x: rate(from.x, control1.x, control2.x, to.x, t),
    y: rate(from.y, control1.y, control2.y, to.y, t),
  };
}

/**
 * Length, to about 1e-10 of itself: Gauss-Legendre quadrature of the speed, halved until a piece
 * agrees with its two halves, so that cusps too are met.
 */
export function cubicLength(from: Point, cubic: Cubic): number {
  const speed = speedOf(from, cubic);
  const whole = gaussLegendre(speed, 0, 1);
  const polygon = controlPolygonLength(from, cubic);
  return refined(speed, 0, 1, whole, polygon * LENGTH_TOLERANCE, MAX_HALVINGS);
}

/** Points at which the curve turns back in x or in y. */
export function cubicExtremes(from: Point, cubic: Cubic): Point[] {
  const { control1, control2, to } = cubic;
  const parameters = [
    ...turningParameters(from.x, control1.x, control2.x, to.x),
    ...turningParameters(from.y, control1.y, control2.y, to.y),
  ];
  return parameters.map((t) => cubicPoint(from, cubic, t));
}

/** Relative to the control polygon, which is never shorter than the curve. */
const LENGTH_TOLERANCE = 1e-11;
const MAX_HALVINGS = 40;
const QUADRATURE_POINTS = 12;

function bernstein(p0: number, p1: number, p2: number, p3: number, t: number): number {
  const s = 1 - t;
  return s * s * s * p0 + 3 * s * s * t * p1 + 3 * s * t * t * p2 + t * t * t * p3;
}

function speedOf(from: Point, { control1, control2, to }: Cubic): (t: number) => number {
  return (t) =>
    Math.hypot(
      rate(from.x, control1.x, control2.x, to.x, t),
      rate(from.y, control1.y, control2.y, to.y, t),
    );
}

function rate(p0: number, p1: number, p2: number, p3: number, t: number): number {
  return 3 * ((1 - t) * (1 - t) * (p1 - p0) + 2 * (1 - t) * t * (p2 - p1) + t * t * (p3 - p2));
}

function controlPolygonLength(from: Point, { control1, control2, to }: Cubic): number {
  return (
    Math.hypot(control1.x - from.x, control1.y - from.y) +
    Math.hypot(control2.x - control1.x, control2.y - control1.y) +
    Math.hypot(to.x - control2.x, to.y - control2.y)
  );
}

function refined(
  speed: (t: number) => number,
  low: number,
  high: number,
  whole: number,
  tolerance: number,
  halvings: number,
): number {
  const middle = (low + high) / 2;
  const left = gaussLegendre(speed, low, middle);
  const right = gaussLegendre(speed, middle, high);
  if (halvings === 0 || Math.abs(left + right - whole) <= tolerance) return left + right;
  return (
    refined(speed, low, middle, left, tolerance / 2, halvings - 1) +
    refined(speed, middle, high, right, tolerance / 2, halvings - 1)
  );
}

function gaussLegendre(f: (t: number) => number, low: number, high: number): number {
  const half = (high - low) / 2;
  const middle = (high + low) / 2;
  let sum = 0;
  for (const { node, weight } of QUADRATURE) sum += weight * f(middle + half * node);
  return sum * half;
}

interface QuadraturePoint {
  readonly node: number;
  readonly weight: number;
}

const QUADRATURE: readonly QuadraturePoint[] = legendreQuadrature(QUADRATURE_POINTS);

/** Roots of the Legendre polynomial by Newton's method, with weights 2 / ((1 - x^2) P'(x)^2). */
function legendreQuadrature(count: number): QuadraturePoint[] {
  return Array.from({ length: count }, (_, index) => {
    let node = Math.cos((Math.PI * (index + 0.75)) / (count + 0.5));
    for (let pass = 0; pass < 10; pass++) {
      const { value, slope } = legendre(count, node);
      node -= value / slope;
    }
    return { node, weight: 2 / ((1 - node * node) * legendre(count, node).slope ** 2) };
  });
}

function legendre(degree: number, x: number): { value: number; slope: number } {
  let previous = 1;
  let value = x;
  for (let n = 2; n <= degree; n++)
    [previous, value] = [value, ((2 * n - 1) * x * value - (n - 1) * previous) / n];
  return { value, slope: (degree * (x * value - previous)) / (x * x - 1) };
}

/** Roots within (0, 1) of the derivative, which is a quadratic a t^2 + b t + c. */
function turningParameters(p0: number, p1: number, p2: number, p3: number): number[] {
  const a = p3 - 3 * p2 + 3 * p1 - p0;
  const b = 2 * (p2 - 2 * p1 + p0);
  const c = p1 - p0;
  return quadraticRoots(a, b, c).filter((t) => t > 0 && t < 1);
}

/** Without the cancellation of the school formula. A root at infinity is left out. */
function quadraticRoots(a: number, b: number, c: number): number[] {
  const discriminant = b * b - 4 * a * c;
  if (discriminant < 0) return [];
  const q = -(b + (b < 0 ? -1 : 1) * Math.sqrt(discriminant)) / 2;
  return [q / a, c / q].filter(Number.isFinite);
}
