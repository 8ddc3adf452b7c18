import type { FilledSheet } from "../filled.ts";
import type { SheetChoice } from "../types.ts";
import type { LayOnRoll } from "../mix-roll.ts";
import type { Outline } from "../outline.ts";
import type { RectangleNest } from "./laid.ts";
import { layRectangles } from "./search.ts";
import { rectanglesOf } from "./sizes.ts";

/** Some of the pieces, all of them rectangles, on a roll, see {@link LayOnRoll}. */
export function rectanglesOnRoll(outlines: readonly Outline[], seed: number): LayOnRoll {
  const rectangles = rectanglesOf(outlines)?.rectangles ?? [];
  return function* lay(
    roll: SheetChoice,
    copies: readonly number[],
  ): Generator<void, readonly FilledSheet[] | null, void> {
    const numbers = [...rectangles.keys()].filter((number) => copies[number]! > 0);
    const some = numbers.map((number) => ({ ...rectangles[number]!, copies: copies[number]! }));
    let best: RectangleNest | null = null;
    for (const found of layRectangles({ rectangles: some }, [roll], seed)) {
      ({ best } = found);
      if (found.spent > MOST_LOOKS) break;
      yield;
    }
    if (best === null || best.left.some((left) => left > 0)) return null;
    return best.sheets.map((sheet) => ({
      ...sheet,
      placed: sheet.placed.map((laid) => ({ ...laid, shape: numbers[laid.shape]! })),
    }));
  };
}

/** A thirtieth of a second. */
const MOST_LOOKS = 2_000_000;
