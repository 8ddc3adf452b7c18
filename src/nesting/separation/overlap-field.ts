import type { NoFit } from "../no-fit.ts";
import { rimOf } from "./rim.ts";

/**
 * How deep a piece lies in another, for any place of the second: the distance to the rim of their
 * no-fit region, which is the shortest move that parts them (penetration depth, as Imamichi, Yagiura
 * and Nagamochi 2009 minimise it, from memory). It is asked millions of times, so the region is
 * divided into cells; from its first use a cell knows the few pieces of rim that can be the nearest
 * to a point in it. Where a cell lies deep inside, the depth is read off between its corners.
 */
export class OverlapField {
  readonly #noFit: NoFit;
  readonly #rim: Float64Array;
  readonly #cellMm: number;
  readonly #cellsPerMm: number;
  /** Cells in a row. */
  readonly #across: number;
  /** By cell: one of the states below. */
  readonly #state: Uint8Array;
  /** By cell at the rim: where its list begins in `#lists`. */
  readonly #list: Int32Array;
  /** Depths at the corners of cells; -1 where none was asked for. */
  readonly #corners: Float64Array;
  /** Lists one after the other: pieces of rim, polygons, then the numbers of both. */
  #lists = new Int32Array(256);
  #used = 0;
  /** By block of cells: the pieces of rim that its cells may need. */
  readonly #blocks: (Int32Array | undefined)[];
  readonly #blocksAcross: number;
  /** What making it took, in depths asked for. */
  readonly making: number;
  /** The shortest way out of the overlap that {@link depthAndWayOut} was asked for last, mm. */
  wayX = 0;
  wayY = 0;

  /** @param cells along the longer side of the region: more are faster to ask and take more room. */
  constructor(noFit: NoFit, cells: number) {
    this.#noFit = noFit;
    const [width, height] = [noFit.maxX - noFit.minX, noFit.maxY - noFit.minY];
    const rim = rimOf(noFit, Math.max(width, height));
    this.#rim = rim.pieces;
    this.making = MAKING * (noFit.starts.length + rim.compared / COMPARED);
    this.#cellMm = Math.max(width, height) / cells;
    this.#cellsPerMm = 1 / this.#cellMm;
    this.#across = Math.floor(width / this.#cellMm) + 1;
    const rows = Math.floor(height / this.#cellMm) + 1;
    this.#state = new Uint8Array(this.#across * rows);
    this.#list = new Int32Array(this.#across * rows);
    this.#corners = new Float64Array((this.#across + 1) * (rows + 1)).fill(-1);
    this.#blocksAcross = Math.ceil(this.#across / BLOCK);
    const blocks = this.#blocksAcross * Math.ceil(rows / BLOCK);
    this.#blocks = Array.from({ length: blocks }, () => undefined);
  }

  /** About how many bytes it takes. */
  get bytes(): number {
    return (
      8 * (this.#rim.length + this.#corners.length + this.#noFit.xy.length) + 5 * this.#state.length
    );
  }

  /**
   * How far the second piece must move from a place to be clear of the first, mm; 0 where it is.
   * Exact near the rim, and a little off deep inside.
   */
  depth(x: number, y: number): number {
    const { minX, minY, maxX, maxY } = this.#noFit;
    if (!(x > minX && x < maxX && y > minY && y < maxY)) return 0;
    const across = (x - minX) * this.#cellsPerMm;
    const along = (y - minY) * this.#cellsPerMm;
    const column = Math.trunc(across);
    const row = Math.trunc(along);
    const cell = row * this.#across + column;
    switch (this.#state[cell]!) {
      case OUTSIDE:
        return 0;
      case INSIDE:
        return this.#betweenCorners(column, row, across - column, along - row);
      case AT_RIM:
        return this.#depthAtRim(cell, x, y);
      case AT_SLIT:
        return this.#isInside(cell, x, y) ? this.#apart(cell, x, y) : 0;
      default:
        this.#learn(cell, column, row);
        return this.depth(x, y);
    }
  }

  /** As {@link depth}, exact everywhere, and leaves the shortest way out in `wayX` and `wayY`. */
  depthAndWayOut(x: number, y: number): number {
    if (this.depth(x, y) === 0) return 0;
    const column = Math.trunc((x - this.#noFit.minX) * this.#cellsPerMm);
    const row = Math.trunc((y - this.#noFit.minY) * this.#cellsPerMm);
    const cell = row * this.#across + column;
    const list = this.#state[cell] === INSIDE ? this.#block(column, row) : this.#rimAt(cell);
    return Math.sqrt(this.#nearest(list, x, y));
  }

  /** Whether a place lies more than so deep in one of the region's polygons: found without the rim. */
  isWithin(x: number, y: number, deeperMm: number): boolean {
    const { starts } = this.#noFit;
    for (let polygon = 0; polygon < starts.length - 1; polygon++)
      if (isInside(this.#noFit, polygon, x, y, deeperMm)) return true;
    return false;
  }

  /** Squared distance to the nearest of some pieces of rim; leaves the way to it. */
  #nearest(list: Int32Array, x: number, y: number): number {
    const rim = this.#rim;
    let least = Infinity;
    for (let index = 0; index < list.length; index++) {
      const at = list[index]!;
      const [dx, dy] = [rim[at + 2]!, rim[at + 3]!];
      const [ex, ey] = [x - rim[at]!, y - rim[at + 1]!];
      const share = Math.min(1, Math.max(0, (ex * dx + ey * dy) / (dx * dx + dy * dy)));
      const [wayX, wayY] = [share * dx - ex, share * dy - ey];
      const apart = wayX * wayX + wayY * wayY;
      if (apart >= least) continue;
      least = apart;
      this.wayX = wayX;
      this.wayY = wayY;
    }
    return least;
  }

  #betweenCorners(column: number, row: number, right: number, up: number): number {
    const corners = this.#corners;
    const low = row * (this.#across + 1) + column;
    const high = low + this.#across + 1;
    return (
      (corners[low]! * (1 - right) + corners[low + 1]! * right) * (1 - up) +
      (corners[high]! * (1 - right) + corners[high + 1]! * right) * up
    );
  }

  /** What lies left of the nearest piece of rim is inside; where that is an end of one, polygons tell. */
  #depthAtRim(cell: number, x: number, y: number): number {
    const rim = this.#rim;
    const lists = this.#lists;
    const list = this.#list[cell]!;
    const end = list + 2 + lists[list]!;
    let least = Infinity;
    let left = 0;
    for (let index = list + 2; index < end; index++) {
      const at = lists[index]!;
      const ex = x - rim[at]!;
      const ey = y - rim[at + 1]!;
      const dx = rim[at + 2]!;
      const dy = rim[at + 3]!;
      const along = ex * dx + ey * dy;
      const length = dx * dx + dy * dy;
      let apart: number;
      let side = 0;
      if (along <= 0) apart = ex * ex + ey * ey;
      else if (along >= length) apart = (ex - dx) * (ex - dx) + (ey - dy) * (ey - dy);
      else {
        side = dx * ey - dy * ex;
        apart = (side * side) / length;
      }
      if (apart >= least) continue;
      least = apart;
      left = side;
    }
    if (left < 0 || (left === 0 && !this.#isInside(cell, x, y))) return 0;
    return Math.sqrt(least);
  }

  #apart(cell: number, x: number, y: number): number {
    return Math.sqrt(this.#nearest(this.#rimAt(cell), x, y));
  }

  #rimAt(cell: number): Int32Array {
    const list = this.#list[cell]!;
    return this.#lists.subarray(list + 2, list + 2 + this.#lists[list]!);
  }

  #isInside(cell: number, x: number, y: number): boolean {
    const list = this.#list[cell]!;
    const from = list + 2 + this.#lists[list]!;
    const to = from + this.#lists[list + 1]!;
    for (let index = from; index < to; index++)
      if (isInside(this.#noFit, this.#lists[index]!, x, y)) return true;
    return false;
  }

  #learn(cell: number, column: number, row: number): void {
    const x = this.#noFit.minX + (column + 0.5) * this.#cellMm;
    const y = this.#noFit.minY + (row + 0.5) * this.#cellMm;
    const reach = this.#cellMm * Math.SQRT1_2 * (1 + ROUNDING);
    const block = this.#block(column, row);
    const near = nearestOf(this.#rim, block, x, y, 2 * reach);
    if (near.leastMm > reach) {
      this.#state[cell] = isInsideAny(this.#noFit, x, y) ? INSIDE : OUTSIDE;
      if (this.#state[cell] === INSIDE) this.#learnCorners(column, row, block);
      return;
    }
    const polygons = polygonsWithin(this.#noFit, x, y, this.#cellMm / 2, reach);
    this.#list[cell] = this.#note(near.pieces, polygons);
    this.#state[cell] = this.#hasSlit(near.pieces) ? AT_SLIT : AT_RIM;
  }

  #learnCorners(column: number, row: number, block: Int32Array): void {
    for (const wide of [column, column + 1]) {
      for (const high of [row, row + 1]) {
        const corner = high * (this.#across + 1) + wide;
        if (this.#corners[corner] !== -1) continue;
        const x = this.#noFit.minX + wide * this.#cellMm;
        const y = this.#noFit.minY + high * this.#cellMm;
        this.#corners[corner] = Math.sqrt(this.#nearest(block, x, y));
      }
    }
  }

  /**
   * Whether two pieces of rim run along each other with the region on both sides: then the nearest
   * piece does not say what is inside.
   */
  #hasSlit(pieces: readonly number[]): boolean {
    const rim = this.#rim;
    return pieces.some((a, index) => {
      const [dx, dy] = [rim[a + 2]!, rim[a + 3]!];
      const most = this.#cellMm * SLIT * Math.hypot(dx, dy);
      return pieces.slice(index + 1).some((b) => {
        if (dx * rim[b + 2]! + dy * rim[b + 3]! >= 0) return false;
        const [ex, ey] = [rim[b]! - rim[a]!, rim[b + 1]! - rim[a + 1]!];
        const [fx, fy] = [ex + rim[b + 2]!, ey + rim[b + 3]!];
        return Math.abs(dx * ey - dy * ex) < most && Math.abs(dx * fy - dy * fx) < most;
      });
    });
  }

  #block(column: number, row: number): Int32Array {
    const [wide, high] = [Math.trunc(column / BLOCK), Math.trunc(row / BLOCK)];
    const block = high * this.#blocksAcross + wide;
    const known = this.#blocks[block];
    if (known !== undefined) return known;
    const blockMm = this.#cellMm * BLOCK;
    const x = this.#noFit.minX + (wide + 0.5) * blockMm;
    const y = this.#noFit.minY + (high + 0.5) * blockMm;
    const all = Int32Array.from({ length: this.#rim.length / 4 }, (_, piece) => 4 * piece);
    const { pieces } = nearestOf(this.#rim, all, x, y, blockMm * Math.SQRT2 * (1 + ROUNDING));
    return (this.#blocks[block] = Int32Array.from(pieces));
  }

  #note(pieces: readonly number[], polygons: readonly number[]): number {
    const list = this.#used;
    const needed = list + 2 + pieces.length + polygons.length;
    if (needed > this.#lists.length) {
      const more = new Int32Array(2 * needed);
      more.set(this.#lists);
      this.#lists = more;
    }
    this.#lists.set([pieces.length, polygons.length, ...pieces, ...polygons], list);
    this.#used = needed;
    return list;
  }
}

/** Depths asked for in the time of making a polygon, and of so many comparisons. */
const MAKING = 6;
const COMPARED = 10;

const OUTSIDE = 1;
const INSIDE = 2;
const AT_RIM = 3;
const AT_SLIT = 4;
/** Cells along the side of a block. */
const BLOCK = 8;
const ROUNDING = 1e-9;
/** Pieces of rim nearer to each other than this share of a cell make a slit. */
const SLIT = 1e-5;

/** The pieces of rim that may be the nearest to a point not far from here. */
function nearestOf(
  rim: Float64Array,
  among: Int32Array,
  x: number,
  y: number,
  furtherMm: number,
): { readonly leastMm: number; readonly pieces: readonly number[] } {
  const apart = new Float64Array(among.length);
  let leastMm = Infinity;
  for (let index = 0; index < among.length; index++) {
    const found = apartFrom(rim, among[index]!, x, y);
    apart[index] = found;
    if (found < leastMm) leastMm = found;
  }
  const pieces: number[] = [];
  for (let index = 0; index < among.length; index++)
    if (apart[index]! <= leastMm + furtherMm) pieces.push(among[index]!);
  return { leastMm, pieces };
}

function apartFrom(rim: Float64Array, at: number, x: number, y: number): number {
  const [ex, ey] = [x - rim[at]!, y - rim[at + 1]!];
  const [dx, dy] = [rim[at + 2]!, rim[at + 3]!];
  const share = Math.min(1, Math.max(0, (ex * dx + ey * dy) / (dx * dx + dy * dy)));
  const [wayX, wayY] = [ex - share * dx, ey - share * dy];
  return Math.sqrt(wayX * wayX + wayY * wayY);
}

function isInsideAny(noFit: NoFit, x: number, y: number): boolean {
  for (let polygon = 0; polygon < noFit.starts.length - 1; polygon++)
    if (isInside(noFit, polygon, x, y)) return true;
  return false;
}

function isInside(noFit: NoFit, polygon: number, x: number, y: number, deeperMm = 0): boolean {
  const { boxes } = noFit;
  const box = 4 * polygon;
  if (x <= boxes[box]! || y <= boxes[box + 1]! || x >= boxes[box + 2]! || y >= boxes[box + 3]!)
    return false;
  return isLeftOfAll(noFit, polygon, x, y, deeperMm);
}

/** Whether a point lies further left than so of every edge: below zero, it may lie that far outside. */
function isLeftOfAll(
  { xy, starts }: NoFit,
  polygon: number,
  x: number,
  y: number,
  furtherMm: number,
): boolean {
  const end = 2 * starts[polygon + 1]!;
  let ax = xy[end - 2]!;
  let ay = xy[end - 1]!;
  for (let at = 2 * starts[polygon]!; at < end; at += 2) {
    const dx = xy[at]! - ax;
    const dy = xy[at + 1]! - ay;
    const left = dx * (y - ay) - dy * (x - ax);
    if (left <= (furtherMm === 0 ? 0 : furtherMm * Math.hypot(dx, dy))) return false;
    ax = xy[at]!;
    ay = xy[at + 1]!;
  }
  return true;
}

/** Polygons that may reach into a circle, found by the square around it first. */
function polygonsWithin(
  noFit: NoFit,
  x: number,
  y: number,
  half: number,
  reach: number,
): readonly number[] {
  const { boxes, starts } = noFit;
  const found: number[] = [];
  for (let polygon = 0; polygon < starts.length - 1; polygon++) {
    const box = 4 * polygon;
    if (boxes[box]! > x + half || boxes[box + 2]! < x - half) continue;
    if (boxes[box + 1]! > y + half || boxes[box + 3]! < y - half) continue;
    if (isLeftOfAll(noFit, polygon, x, y, -reach)) found.push(polygon);
  }
  return found;
}
