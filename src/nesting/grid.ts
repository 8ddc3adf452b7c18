import type { Box, Point } from "../geometry/types.ts";

/**
 * Edges by the square cells of a grid that they run through, so that those near a place are found
 * without asking all. An edge is known by a number.
 */
export class Grid {
  readonly #cells = new Map<number, number[]>();
  readonly #box: Box;
  readonly #sideMm: number;
  readonly #columns: number;
  readonly #rows: number;

  /** For about so many edges in a box: about as many cells. */
  constructor(box: Box, edges: number) {
    const [width, height] = [box.maxX - box.minX, box.maxY - box.minY];
    const longer = Math.max(width, height);
    const share = Math.min(
      1,
      Math.max(1 / MOST_ALONG, Math.sqrt((width * height) / edges) / longer),
    );
    this.#box = box;
    this.#sideMm = longer > 0 ? longer * share : 1;
    this.#columns = Math.floor(width / this.#sideMm) + 1;
    this.#rows = Math.floor(height / this.#sideMm) + 1;
  }

  add(edge: number, from: Point, to: Point): void {
    this.#visit([from, to], (cell) => {
      const list = this.#cells.get(cell);
      if (list === undefined) this.#cells.set(cell, [edge]);
      else list.push(edge);
      return false;
    });
  }

  /**
   * Whether some edge that comes near a place passes the test; it may be asked more than once.
   *
   * @param place a point, a line or a convex polygon.
   */
  some(place: readonly Point[], test: (edge: number) => boolean): boolean {
    return this.#visit(place, (cell) => {
      const list = this.#cells.get(cell);
      return list !== undefined && list.some(test);
    });
  }

  /** Goes through the cells that a place reaches, row by row; ends when one says so. */
  #visit(place: readonly Point[], see: (cell: number) => boolean): boolean {
    let [minY, maxY] = [Infinity, -Infinity];
    for (const { y } of place) {
      if (y < minY) minY = y;
      if (y > maxY) maxY = y;
    }
    const last = this.#row(maxY);
    for (let row = this.#row(minY); row <= last; row++) {
      const low = this.#box.minY + (row - REACH) * this.#sideMm;
      const high = this.#box.minY + (row + 1 + REACH) * this.#sideMm;
      let [minX, maxX] = [Infinity, -Infinity];
      for (const [index, a] of place.entries()) {
        const b = place[index + 1 < place.length ? index + 1 : 0]!;
        // What lies outside of the grid is counted to its rim.
        const from = row === 0 ? Math.min(a.y, b.y) : Math.max(low, Math.min(a.y, b.y));
        const to = row === this.#rows - 1 ? Math.max(a.y, b.y) : Math.min(high, Math.max(a.y, b.y));
        if (from > to) continue;
        for (const y of [from, to]) {
          const x = xAt(a, b, y);
          if (x < minX) minX = x;
          if (x > maxX) maxX = x;
        }
        if (a.y === b.y) [minX, maxX] = [Math.min(minX, a.x, b.x), Math.max(maxX, a.x, b.x)];
      }
      const end = this.#column(maxX + REACH * this.#sideMm);
      for (let column = this.#column(minX - REACH * this.#sideMm); column <= end; column++)
        if (see(row * this.#columns + column)) return true;
    }
    return false;
  }

  #row(y: number): number {
    const row = Math.floor((y - this.#box.minY) / this.#sideMm);
    return Math.max(0, Math.min(this.#rows - 1, row));
  }

  #column(x: number): number {
    const column = Math.floor((x - this.#box.minX) / this.#sideMm);
    return Math.max(0, Math.min(this.#columns - 1, column));
  }
}

/** Cells along the longer side at most. */
const MOST_ALONG = 1024;
/** Share of a cell that places reach further, so that rounding never parts what touches. */
const REACH = 1e-3;

function xAt(a: Point, b: Point, y: number): number {
  if (a.y === b.y) return a.x;
  return a.x + Math.min(1, Math.max(0, (y - a.y) / (b.y - a.y))) * (b.x - a.x);
}
