import type { Box } from "../geometry/types.ts";
import { edgeRows, someBetween, type EdgeRows } from "./check-edges.ts";

/**
 * Millionth of a millimetre: a thousandfold of what rounding does to coordinates of ten metres, and
 * a ten-thousandth of what the finest sheet cutter can place.
 */
export const TOLERANCE_MM = 1e-6;

/** A piece as it lies: all its edges, outer and of holes, turned but not moved. */
export interface Solid {
  readonly form: EdgeRows;
  /** How far it is moved. */
  readonly x: number;
  readonly y: number;
  /** On the sheet. */
  readonly box: Box;
}

/** Material is left or right of the edges, according to the mirroring: nothing here relies on it. */
export function solidOf(form: EdgeRows, x: number, y: number): Solid {
  const { minX, minY, maxX, maxY } = form.box;
  const box = { minX: minX + x, minY: minY + y, maxX: maxX + x, maxY: maxY + y };
  return { form, x, y, box };
}

/** What is wrong between two pieces that must stay `needed` mm apart, in words; null when nothing is. */
export function clearanceFault(a: Solid, b: Solid, needed: number): string | null {
  if (boxesApart(a.box, b.box, needed)) return null;
  if (needed <= 2 * TOLERANCE_MM) return invades(a, b) || invades(b, a) ? "the two overlap" : null;
  const distance = edgeDistance(a, b, needed);
  if (distance < needed - TOLERANCE_MM)
    return `${distance.toFixed(6)} mm apart, ${needed.toFixed(6)} mm are to be kept`;
  // No edge comes near another: one lies in the other's material wholly or not at all.
  if (holds(b, ...cornerOf(a)) || holds(a, ...cornerOf(b)))
    return "one lies in the material of the other";
  return null;
}

function boxesApart(a: Box, b: Box, needed: number): boolean {
  return (
    a.minX - b.maxX >= needed ||
    b.minX - a.maxX >= needed ||
    a.minY - b.maxY >= needed ||
    b.minY - a.maxY >= needed
  );
}

/** Smallest distance between edges; those further apart than `needed` are not measured. */
function edgeDistance(a: Solid, b: Solid, needed: number): number {
  const nearA = edgesNear(a, b.box, needed);
  const nearB = edgeRows(edgesNear(b, a.box, needed));
  let least = Infinity;
  for (let i = 0; i < nearA.length; i += 4) {
    const [y1, y2] = [nearA[i + 1]!, nearA[i + 3]!];
    someBetween(nearB, Math.min(y1, y2) - needed, Math.max(y1, y2) + needed, (j) => {
      if (!edgeBoxesApart(nearA, i, nearB.edges, j, needed))
        least = Math.min(least, segmentDistance(nearA, i, nearB.edges, j));
      return false;
    });
  }
  return least;
}

/** As they lie on the sheet. */
function edgesNear({ form, x, y }: Solid, box: Box, reach: number): Float64Array {
  const { edges } = form;
  const near: number[] = [];
  const [minX, maxX] = [box.minX - reach - x, box.maxX + reach - x];
  const [minY, maxY] = [box.minY - reach - y, box.maxY + reach - y];
  someBetween(form, minY, maxY, (i) => {
    const [x1, y1, x2, y2] = [edges[i]!, edges[i + 1]!, edges[i + 2]!, edges[i + 3]!];
    const apart =
      (x1 > maxX && x2 > maxX) ||
      (x1 < minX && x2 < minX) ||
      (y1 > maxY && y2 > maxY) ||
      (y1 < minY && y2 < minY);
    if (!apart) near.push(x1 + x, y1 + y, x2 + x, y2 + y);
    return false;
  });
  return Float64Array.from(near);
}

function edgeBoxesApart(
  a: Float64Array,
  i: number,
  b: Float64Array,
  j: number,
  reach: number,
): boolean {
  return (
    Math.min(a[i]!, a[i + 2]!) > Math.max(b[j]!, b[j + 2]!) + reach ||
    Math.min(b[j]!, b[j + 2]!) > Math.max(a[i]!, a[i + 2]!) + reach ||
    Math.min(a[i + 1]!, a[i + 3]!) > Math.max(b[j + 1]!, b[j + 3]!) + reach ||
    Math.min(b[j + 1]!, b[j + 3]!) > Math.max(a[i + 1]!, a[i + 3]!) + reach
  );
}

/** Zero when they cross; else an end of one is nearest to the other. */
function segmentDistance(a: Float64Array, i: number, b: Float64Array, j: number): number {
  if (crossing(a, i, b, j) !== null) return 0;
  return Math.min(
    pointDistance(a[i]!, a[i + 1]!, b, j),
    pointDistance(a[i + 2]!, a[i + 3]!, b, j),
    pointDistance(b[j]!, b[j + 1]!, a, i),
    pointDistance(b[j + 2]!, b[j + 3]!, a, i),
  );
}

/** Where along edge `i` of `a`, from 0 to 1, it crosses edge `j` of `b`; null for not or parallel. */
function crossing(a: Float64Array, i: number, b: Float64Array, j: number): number | null {
  const [ax, ay] = [a[i + 2]! - a[i]!, a[i + 3]! - a[i + 1]!];
  const [bx, by] = [b[j + 2]! - b[j]!, b[j + 3]! - b[j + 1]!];
  const [cx, cy] = [b[j]! - a[i]!, b[j + 1]! - a[i + 1]!];
  const turn = ax * by - ay * bx;
  if (turn === 0) return null;
  const alongA = (cx * by - cy * bx) / turn;
  const alongB = (cx * ay - cy * ax) / turn;
  return alongA >= 0 && alongA <= 1 && alongB >= 0 && alongB <= 1 ? alongA : null;
}

function pointDistance(x: number, y: number, edges: Float64Array, j: number): number {
  const [dx, dy] = [edges[j + 2]! - edges[j]!, edges[j + 3]! - edges[j + 1]!];
  const [px, py] = [x - edges[j]!, y - edges[j + 1]!];
  const square = dx * dx + dy * dy;
  const along = square === 0 ? 0 : Math.min(1, Math.max(0, (px * dx + py * dy) / square));
  return Math.hypot(px - along * dx, py - along * dy);
}

function cornerOf({ form, x, y }: Solid): readonly [number, number] {
  return [form.edges[0]! + x, form.edges[1]! + y];
}

/** Even-odd rule over all rings: in the material, outside of holes. */
function holds({ form, x: atX, y: atY }: Solid, sheetX: number, sheetY: number): boolean {
  const { edges } = form;
  const [x, y] = [sheetX - atX, sheetY - atY];
  let inside = false;
  someBetween(form, y, y, (i) => {
    const [y1, y2] = [edges[i + 1]!, edges[i + 3]!];
    if (y1 > y === y2 > y) return false;
    const at = edges[i]! + ((y - y1) / (y2 - y1)) * (edges[i + 2]! - edges[i]!);
    if (x < at) inside = !inside;
    return false;
  });
  return inside;
}

/**
 * For pieces that may touch. The edges of `a` are parted where they meet edges of `b`; beside the
 * middle of each length, on the side of a's material, a point is taken a tolerance deep. Lies it
 * deep in the material of `b` too, the two overlap. Also right for edges upon edges.
 */
function invades(a: Solid, b: Solid): boolean {
  const near = edgesNear(a, b.box, TOLERANCE_MM);
  const others = edgeRows(edgesNear(b, a.box, TOLERANCE_MM));
  for (let i = 0; i < near.length; i += 4) {
    const [x, y] = [near[i]!, near[i + 1]!];
    const [dx, dy] = [near[i + 2]! - x, near[i + 3]! - y];
    const length = Math.hypot(dx, dy);
    if (length === 0) continue;
    const parting = partings(near, i, others);
    for (let k = 1; k < parting.length; k++) {
      const middle = (parting[k - 1]! + parting[k]!) / 2;
      for (const side of [TOLERANCE_MM, -TOLERANCE_MM]) {
        const px = x + middle * dx - (side * dy) / length;
        const py = y + middle * dy + (side * dx) / length;
        if (deepIn(b, px, py) && holds(a, px, py)) return true;
      }
    }
  }
  return false;
}

function partings(near: Float64Array, i: number, others: EdgeRows): readonly number[] {
  const parting = [0, 1];
  const [low, high] = [Math.min(near[i + 1]!, near[i + 3]!), Math.max(near[i + 1]!, near[i + 3]!)];
  someBetween(others, low - TOLERANCE_MM, high + TOLERANCE_MM, (j) => {
    if (edgeBoxesApart(near, i, others.edges, j, TOLERANCE_MM)) return false;
    const at = crossing(near, i, others.edges, j);
    if (at !== null) parting.push(at);
    else parting.push(...ends(near, i, others.edges, j));
    return false;
  });
  return parting.sort((p, q) => p - q);
}

/** Where along edge `i` of `a` the ends of edge `j` of `b`, parallel or beside it, come to lie. */
function ends(a: Float64Array, i: number, b: Float64Array, j: number): readonly number[] {
  const [dx, dy] = [a[i + 2]! - a[i]!, a[i + 3]! - a[i + 1]!];
  const square = dx * dx + dy * dy;
  return [j, j + 2]
    .map((end) => ((b[end]! - a[i]!) * dx + (b[end + 1]! - a[i + 1]!) * dy) / square)
    .filter((at) => at > 0 && at < 1);
}

function deepIn(solid: Solid, x: number, y: number): boolean {
  if (!holds(solid, x, y)) return false;
  const { form } = solid;
  const [atX, atY] = [x - solid.x, y - solid.y];
  const depth = TOLERANCE_MM / 2;
  return !someBetween(
    form,
    atY - depth,
    atY + depth,
    (j) => pointDistance(atX, atY, form.edges, j) <= depth,
  );
}
