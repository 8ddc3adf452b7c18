import { arcPoint, arcRadius, arcStartAngle } from "./arc.ts";
import type { Arc } from "./arc.ts";
import { cubicPoint, cubicRate } from "./cubic.ts";
import type { Cubic } from "./cubic.ts";
import type { Leg } from "./path.ts";
import { add, scaled, subtract } from "./point.ts";
import type { Point } from "./types.ts";

/** One segment with its start, run by a parameter from 0 to 1 and, as the same curve, beyond. */

export function legPoint({ from, segment }: Leg, t: number): Point {
  if (segment.kind === "line") return between(from, segment.to, t);
  return segment.kind === "arc" ? arcPoint(from, segment, t) : cubicPoint(from, segment, t);
}

/** Derivative by the parameter, mm. */
export function legRate({ from, segment }: Leg, t: number): Point {
  if (segment.kind === "line") return subtract(segment.to, from);
  return segment.kind === "arc" ? arcRate(from, segment, t) : cubicRate(from, segment, t);
}

/** Signed curvature, 1/mm, counter-clockwise positive; 0 where the curve stands still. */
export function legCurvature(leg: Leg, t: number): number {
  const { from, segment } = leg;
  if (segment.kind === "line") return 0;
  if (segment.kind === "arc") return Math.sign(segment.sweepRad) / arcRadius(from, segment);
  const [rate, bend] = [legRate(leg, t), cubicBend(from, segment, t)];
  const speed = Math.hypot(rate.x, rate.y);
  return speed === 0 ? 0 : (rate.x * bend.y - rate.y * bend.x) / speed ** 3;
}

/** The stretch between two parameters, which may lie a little outside of 0 to 1. */
export function legPart(leg: Leg, begin: number, end: number): Leg {
  if (begin === 0 && end === 1) return leg;
  const [from, to] = [legPoint(leg, begin), legPoint(leg, end)];
  const { segment } = leg;
  if (segment.kind === "line") return { from, segment: { kind: "line", to } };
  if (segment.kind === "arc")
    return { from, segment: { ...segment, to, sweepRad: segment.sweepRad * (end - begin) } };
  const share = (end - begin) / 3;
  const control1 = add(from, scaled(legRate(leg, begin), share));
  const control2 = subtract(to, scaled(legRate(leg, end), share));
  return { from, segment: { kind: "cubic", control1, control2, to } };
}

function between(from: Point, to: Point, share: number): Point {
  if (share === 1) return to;
  return { x: from.x + share * (to.x - from.x), y: from.y + share * (to.y - from.y) };
}

function arcRate(from: Point, arc: Arc, t: number): Point {
  const speed = arcRadius(from, arc) * arc.sweepRad;
  const angle = arcStartAngle(from, arc) + arc.sweepRad * t;
  return { x: -speed * Math.sin(angle), y: speed * Math.cos(angle) };
}

function cubicBend(from: Point, { control1, control2, to }: Cubic, t: number): Point {
  const of = (p0: number, p1: number, p2: number, p3: number): number =>
    6 * ((1 - t) * (p2 - 2 * p1 + p0) + t * (p3 - 2 * p2 + p1));
  return {
    x: of(from.x, control1.x, control2.x, to.x),
    y: of(from.y, control1.y, control2.y, to.y),
  };
}
