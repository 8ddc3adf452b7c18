import type { Point } from "./types.ts";

/** Arithmetic on points taken as vectors. */

export function add(a: Point, b: Point): Point {
  return { x: a.x + b.x, y: a.y + b.y };
}

export function subtract(a: Point, b: Point): Point {
  return { x: a.x - b.x, y: a.y - b.y };
}

export function scaled(a: Point, factor: number): Point {
  return { x: a.x * factor, y: a.y * factor };
}

/** Positive when b lies counter-clockwise of a. */
export function cross(a: Point, b: Point): number {
  return a.x * b.y - a.y * b.x;
}

export function dot(a: Point, b: Point): number {
  return a.x * b.x + a.y * b.y;
}

export function distance(a: Point, b: Point): number {
  return Math.hypot(b.x - a.x, b.y - a.y);
}

export function samePoint(a: Point, b: Point): boolean {
  return a.x === b.x && a.y === b.y;
}

/** To the nearest point of the side from a to b. */
export function distanceToSide(p: Point, a: Point, b: Point): number {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const squared = dx * dx + dy * dy;
  const along = squared === 0 ? 0 : ((p.x - a.x) * dx + (p.y - a.y) * dy) / squared;
  const share = Math.min(1, Math.max(0, along));
  return Math.hypot(p.x - a.x - share * dx, p.y - a.y - share * dy);
}

/** To the line through a and b, which must be apart. */
export function distanceToLine(p: Point, a: Point, b: Point): number {
  const turn = (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
  return Math.abs(turn) / Math.hypot(b.x - a.x, b.y - a.y);
}
