import type { FilledSheet, Laid } from "../filled.ts";
import { kindOf } from "./entry.ts";
import type { Laying } from "./laying.ts";
import { inMm, type Rectangle } from "./sizes.ts";
import type { LaidSheet } from "./sheets.ts";
import type { Stock } from "./stock.ts";

/** What the search found, as the rest of the program has it: `shape` is the number of the rectangle. */

export interface RectangleNest {
  /** The last one is that with the largest free rectangle. */
  readonly sheets: readonly FilledSheet[];
  /** Of each rectangle the copies that found no place. */
  readonly left: readonly number[];
  /** Whether each rectangle fits on any of the sheets. */
  readonly fits: readonly boolean[];
  /** Of the sheets; of a roll nothing to go by, for its lengths are cut short. */
  readonly cost: number;
  /** The largest rectangle, and the gap to it, still free above what lies on the last sheet, mm2; 0 for a roll. */
  readonly freeMm2: number;
}

/** Hands out the copies of kinds to the pieces they stand for, in the order of the sheets. */
export class Handing {
  readonly #rectangles: readonly Rectangle[];
  readonly #stock: Stock;
  readonly #laying: Laying;
  /** Of each kind the copies handed out. */
  readonly #handed: number[];

  constructor(rectangles: readonly Rectangle[], stock: Stock, laying: Laying) {
    this.#rectangles = rectangles;
    this.#stock = stock;
    this.#laying = laying;
    this.#handed = stock.kinds.map(() => 0);
  }

  sheet({ offer: { choice }, room, lying, entries }: LaidSheet): FilledSheet {
    const laying = this.#laying;
    laying.lay(Int32Array.from(entries), entries.length, [room]);
    let usedMm = 0;
    const placed = entries.map((entry, at): Laid => {
      const { rectangle, across } = this.#next(kindOf(entry));
      const { ways, flatteningMm } = this.#rectangles[rectangle]!;
      const turned = (laying.turned[at] === 1) !== across;
      const variant = ways[turned ? 1 : 0]!;
      const { minX, minY, maxY } = variant.box;
      const [x, y] = [laying.x[at]!, laying.y[at]!];
      const corner = choice.marginMm + flatteningMm;
      const yMm = corner + inMm(lying ? x : y) - minY;
      usedMm = Math.max(usedMm, yMm + maxY + flatteningMm);
      return { shape: rectangle, variant, x: corner + inMm(lying ? y : x) - minX, y: yMm };
    });
    return { choice, placed, usedMm };
  }

  /** Copies of each rectangle that have not been handed out. */
  left(): readonly number[] {
    const left = this.#rectangles.map(() => 0);
    for (const [kind, { members }] of this.#stock.kinds.entries()) {
      let handed = this.#handed[kind]!;
      for (const { rectangle, copies } of members) {
        const own = Math.min(handed, copies);
        left[rectangle] = copies - own;
        handed -= own;
      }
    }
    return left;
  }

  #next(kind: number): { readonly rectangle: number; readonly across: boolean } {
    let number = this.#handed[kind]!++;
    const { members } = this.#stock.kinds[kind]!;
    for (const member of members) {
      if (number < member.copies) return member;
      number -= member.copies;
    }
    throw new RangeError(`kind ${kind} has no copy ${number} more`);
  }
}
