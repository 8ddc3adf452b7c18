import type { NoFit } from "../no-fit.ts";

/**
 * The rim of a no-fit region, which is a union of convex polygons, as loose pieces of their edges: what is left of every edge
 * when the stretches inside of other polygons are taken away. No topology is kept, so nothing can
 * go wrong with it: a distance to the rim needs none.
 */

export interface Rim {
  /** `x, y, dx, dy` each. */
  readonly pieces: Float64Array;
  /** How often an edge or polygon was held against another at most: what making it takes. */
  readonly compared: number;
}

/** Of a region no larger than `sizeMm`. */
export function rimOf(noFit: NoFit, sizeMm: number): Rim {
  const { xy, starts } = noFit;
  const lengths = edgeLengths(noFit);
  const nothing = sizeMm * NOTHING;
  const rim: number[] = [];
  let compared = 0;
  const covered: Covered = { from: [], to: [] };
  for (let polygon = 0; polygon < starts.length - 1; polygon++) {
    const near = polygonsNear(noFit, polygon);
    compared += starts.length;
    const [start, end] = [starts[polygon]!, starts[polygon + 1]!];
    for (let point = start; point < end; point++) {
      const next = point + 1 < end ? point + 1 : start;
      const [x, y] = [xy[2 * point]!, xy[2 * point + 1]!];
      const [dx, dy] = [xy[2 * next]! - x, xy[2 * next + 1]! - y];
      const length = Math.hypot(dx, dy);
      if (length <= nothing) continue;
      covered.from.length = covered.to.length = 0;
      compared += near.length;
      if (isCovered(noFit, lengths, near, x, y, dx, dy, nothing, covered)) continue;
      leave(covered, x, y, dx, dy, nothing / length, rim);
    }
  }
  return { pieces: Float64Array.from(rim), compared };
}

/** Of the edge that ends in each point, worked out once: every edge is held against many others. */
function edgeLengths({ xy, starts }: NoFit): Float64Array {
  const lengths = new Float64Array(starts.at(-1) ?? 0);
  for (let polygon = 0; polygon < starts.length - 1; polygon++) {
    const [start, end] = [starts[polygon]!, starts[polygon + 1]!];
    for (let point = start, before = end - 1; point < end; before = point++)
      lengths[point] = Math.hypot(
        xy[2 * point]! - xy[2 * before]!,
        xy[2 * point + 1]! - xy[2 * before + 1]!,
      );
  }
  return lengths;
}

/** Share of the region's size that counts as nothing. */
const NOTHING = 1e-11;

interface Covered {
  readonly from: number[];
  readonly to: number[];
}

function polygonsNear({ boxes, starts }: NoFit, polygon: number): number[] {
  const near: number[] = [];
  const own = 4 * polygon;
  for (let other = 0; other < starts.length - 1; other++) {
    const box = 4 * other;
    if (other === polygon) continue;
    if (boxes[box]! > boxes[own + 2]! || boxes[box + 2]! < boxes[own]!) continue;
    if (boxes[box + 1]! > boxes[own + 3]! || boxes[box + 3]! < boxes[own + 1]!) continue;
    near.push(other);
  }
  return near;
}

/**
 * Notes what others cover of an edge; true when one covers all of it. That one comes first in `near`
 * from then on, for it is likely to cover the next edge too.
 */
function isCovered(
  noFit: NoFit,
  lengths: Float64Array,
  near: number[],
  x: number,
  y: number,
  dx: number,
  dy: number,
  nothing: number,
  covered: Covered,
): boolean {
  for (let index = 0; index < near.length; index++) {
    const other = near[index]!;
    if (!cover(noFit, lengths, other, x, y, dx, dy, nothing, covered)) continue;
    near[index] = near[0]!;
    near[0] = other;
    return true;
  }
  return false;
}

/** Adds the stretch of an edge, as shares of it, that lies deeper than `nothing` in a polygon; true for all of it. */
function cover(
  { xy, starts, boxes }: NoFit,
  lengths: Float64Array,
  polygon: number,
  x: number,
  y: number,
  dx: number,
  dy: number,
  nothing: number,
  covered: Covered,
): boolean {
  const box = 4 * polygon;
  if (Math.max(x, x + dx) <= boxes[box]! || Math.min(x, x + dx) >= boxes[box + 2]!) return false;
  if (Math.max(y, y + dy) <= boxes[box + 1]! || Math.min(y, y + dy) >= boxes[box + 3]!)
    return false;
  let [from, to] = [0, 1];
  const [start, end] = [starts[polygon]!, starts[polygon + 1]!];
  let ax = xy[2 * (end - 1)]!;
  let ay = xy[2 * (end - 1) + 1]!;
  for (let point = start; point < end; point++) {
    const bx = xy[2 * point]!;
    const by = xy[2 * point + 1]!;
    const [ex, ey] = [bx - ax, by - ay];
    const length = lengths[point]!;
    // Depth left of the edge: at + t * rise must be more than nothing.
    const at = ex * (y - ay) - ey * (x - ax) - nothing * length;
    const rise = ex * dy - ey * dx;
    ax = bx;
    ay = by;
    if (length === 0) continue;
    if (Math.abs(rise) <= 1e-13 * length * (Math.abs(dx) + Math.abs(dy))) {
      if (at <= 0) return false;
      continue;
    }
    const crossing = -at / rise;
    if (rise > 0) {
      if (crossing > from) from = crossing;
    } else if (crossing < to) to = crossing;
    if (from >= to) return false;
  }
  covered.from.push(from);
  covered.to.push(to);
  return from <= 0 && to >= 1;
}

/** Writes what is left of an edge; stretches below `nothing`, a share of it, are left out. */
function leave(
  { from, to }: Covered,
  x: number,
  y: number,
  dx: number,
  dy: number,
  nothing: number,
  rim: number[],
): void {
  const order = from.map((_, index) => index).sort((a, b) => from[a]! - from[b]!);
  let at = 0;
  for (const index of order) {
    if (from[index]! - at > SLACK * nothing) write(rim, x, y, dx, dy, at, from[index]!);
    if (to[index]! > at) at = to[index]!;
  }
  if (1 - at > SLACK * nothing) write(rim, x, y, dx, dy, at, 1);
}

/** Where polygons meet in a point, so much more than nothing may be left between them. */
const SLACK = 8;

function write(
  rim: number[],
  x: number,
  y: number,
  dx: number,
  dy: number,
  from: number,
  to: number,
): void {
  rim.push(x + from * dx, y + from * dy, (to - from) * dx, (to - from) * dy);
}
