import { pathEnd } from "../geometry/path.ts";
import { distance } from "../geometry/point.ts";
import type { Point } from "../geometry/types.ts";
import type { PlacedPath } from "./drawn-line.ts";
import { JOIN_MM } from "./weld.ts";

/** A line that waits to be joined, turned round so that the end asked for is its start. */
export interface Follower {
  readonly line: PlacedPath;
  readonly isReversed: boolean;
}

/** Lines that wait to be joined, found by their ends in square cells as wide as a gap. */
export class LooseEnds {
  readonly #lines: readonly PlacedPath[];
  readonly #cells = new Map<number, number[]>();
  readonly #isTaken: boolean[];
  #first = 0;

  constructor(lines: readonly PlacedPath[]) {
    this.#lines = lines;
    this.#isTaken = lines.map(() => false);
    for (const [index, { path }] of lines.entries())
      for (const key of new Set([path.start, pathEnd(path)].map(keyOf))) {
        const cell = this.#cells.get(key);
        if (cell === undefined) this.#cells.set(key, [index]);
        else cell.push(index);
      }
  }

  /** The earliest line that still waits. */
  takeFirst(): PlacedPath | null {
    while (this.#isTaken[this.#first] === true) this.#first++;
    return this.#take(this.#first);
  }

  /** The line with the end nearest to a point, within {@link JOIN_MM}; of several the earliest. */
  takeNearest(point: Point): Follower | null {
    let best = { index: -1, gap: Infinity, isReversed: false };
    for (const key of keysAround(point)) {
      for (const index of this.#waitingIn(key)) {
        const line = this.#lines[index];
        if (line === undefined) continue;
        const [start, end] = [
          distance(point, line.path.start),
          distance(point, pathEnd(line.path)),
        ];
        const gap = Math.min(start, end);
        const isBetter = gap < best.gap || (gap === best.gap && index < best.index);
        if (gap <= JOIN_MM && isBetter) best = { index, gap, isReversed: end < start };
      }
    }
    const line = this.#take(best.index);
    return line === null ? null : { line, isReversed: best.isReversed };
  }

  /** Taken lines are dropped on the way, so that many ends in one place are not passed each time. */
  #waitingIn(key: number): readonly number[] {
    const cell = this.#cells.get(key) ?? [];
    let kept = 0;
    for (const index of cell) if (this.#isTaken[index] === false) cell[kept++] = index;
    cell.length = kept;
    return cell;
  }

  #take(index: number): PlacedPath | null {
    const line = this.#lines[index];
    if (line === undefined) return null;
    this.#isTaken[index] = true;
    return line;
  }
}

/** Rows beyond a column's share of keys would need drawings of more than a kilometre. */
const ROWS = 2 ** 26;

function keyOf({ x, y }: Point): number {
  return Math.floor(x / JOIN_MM) * ROWS + Math.floor(y / JOIN_MM);
}

function keysAround(point: Point): number[] {
  const key = keyOf(point);
  return [-1, 0, 1].flatMap((column) => [-1, 0, 1].map((row) => key + column * ROWS + row));
}
