import type { Point } from "../geometry/types.ts";

/** A straight side, or a chord of a curve. */
export interface Side {
  readonly a: Point;
  readonly b: Point;
}

/** Finds sides near others: every side is entered in each square cell that it passes through. */
export class SideGrid {
  readonly #cells = new Map<number, number[]>();
  readonly #cellMm: number;
  readonly #found: Int32Array;
  #asked = 0;

  constructor(sides: readonly Side[], cellMm: number) {
    this.#cellMm = cellMm;
    this.#found = new Int32Array(sides.length).fill(-1);
    for (const [index, side] of sides.entries())
      for (const key of this.#cellsAlong(side, 0)) {
        const cell = this.#cells.get(key);
        if (cell === undefined) this.#cells.set(key, [index]);
        else cell.push(index);
      }
  }

  /** Indices of all sides that may come within the reach, each once, in no order. */
  near(side: Side, reachMm: number): number[] {
    const found: number[] = [];
    const question = this.#asked++;
    for (const key of this.#cellsAlong(side, reachMm)) {
      const cell = this.#cells.get(key);
      if (cell === undefined) continue;
      for (const index of cell) {
        if (this.#found[index] === question) continue;
        this.#found[index] = question;
        found.push(index);
      }
    }
    return found;
  }

  /** Column by column, the cells that the side or what lies within the reach of it passes. */
  #cellsAlong({ a, b }: Side, reach: number): number[] {
    const keys: number[] = [];
    const [left, right] = a.x <= b.x ? [a, b] : [b, a];
    const slope = right.x > left.x ? (right.y - left.y) / (right.x - left.x) : 0;
    const first = this.#cell(left.x - reach);
    const last = this.#cell(right.x + reach);
    const upright = right.x - left.x < this.#cellMm;
    for (let column = first; column <= last; column++) {
      const from = Math.max(left.x, column * this.#cellMm - reach);
      const to = Math.min(right.x, (column + 1) * this.#cellMm + reach);
      const one = upright ? left.y : left.y + slope * (from - left.x);
      const two = upright ? right.y : left.y + slope * (to - left.x);
      const low = this.#cell(Math.min(one, two) - reach - MARGIN_MM);
      const high = this.#cell(Math.max(one, two) + reach + MARGIN_MM);
      for (let row = low; row <= high; row++) keys.push(column * COLUMNS + row);
    }
    return keys;
  }

  #cell(mm: number): number {
    return Math.floor(mm / this.#cellMm);
  }
}

/** Against rounding along the slope. */
const MARGIN_MM = 1e-6;
/** Rows beyond a column's share of keys would need drawings of more than a kilometre. */
const COLUMNS = 2 ** 26;
