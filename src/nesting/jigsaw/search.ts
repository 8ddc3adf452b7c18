import type { FilledSheet } from "../filled.ts";
import type { Outline } from "../outline.ts";
import { randomFrom } from "../../random.ts";
import { turnedAs } from "../turns.ts";
import type { SheetChoice } from "../types.ts";
import { solve, type TileLaid } from "./solve.ts";
import { jigsawOf, type Jigsaw } from "./tiles.ts";

/** Looks for a nest without any waste, round after round. */
export class JigsawSearch {
  /** On so many sheets, all of them full. */
  readonly sheets: number;
  readonly #jigsaw: Jigsaw;
  readonly #outlines: readonly Outline[];
  readonly #choice: SheetChoice;
  readonly #work: ReturnType<typeof solve>;

  constructor(jigsaw: Jigsaw, outlines: readonly Outline[], choice: SheetChoice, seed: number) {
    this.sheets = jigsaw.sheets;
    this.#jigsaw = jigsaw;
    this.#outlines = outlines;
    this.#choice = choice;
    this.#work = solve(jigsaw, randomFrom(seed));
  }

  /** Looks at so many tiles in their places more; the sheets once they are found. Yields now and then. */
  *go(most: number): Generator<void, readonly FilledSheet[] | null, void> {
    let looked = 0;
    while (looked < most) {
      const turn = this.#work.next();
      if (turn.done === true)
        return turn.value === undefined || turn.value === null ? null : this.#filled(turn.value);
      looked += turn.value;
      yield;
    }
    return null;
  }

  #filled(laid: readonly TileLaid[]): readonly FilledSheet[] {
    const { tiles, unitsPerMm, height } = this.#jigsaw;
    return Array.from({ length: this.sheets }, (_, sheet): FilledSheet => {
      const own = laid.filter((one) => one.sheet === sheet);
      const placed = own.map(({ tile, x, y }) => {
        const { shape, turnDeg, mirrored } = tiles[tile]!;
        const variant = turnedAs(this.#outlines[shape]!.hull, turnDeg, mirrored);
        return { shape, variant, x: x / unitsPerMm, y: y / unitsPerMm };
      });
      return { choice: this.#choice, placed, usedMm: height / unitsPerMm };
    });
  }
}

/** Null where pieces and sheet are no jigsaw. */
export function jigsawSearch(
  outlines: readonly Outline[],
  choice: SheetChoice,
  seed: number,
): JigsawSearch | null {
  const jigsaw = jigsawOf(outlines, choice);
  return jigsaw === null ? null : new JigsawSearch(jigsaw, outlines, choice, seed);
}
