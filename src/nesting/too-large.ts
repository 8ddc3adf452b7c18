import { turnsThatFit } from "./bed.ts";
import { outlineOf, smallestOf } from "./outline.ts";
import { seenOf } from "./shapes.ts";
import type { NestPiece, SheetChoice } from "./types.ts";

/** Whether a size of sheet takes a piece at all, asked as the search asks it, before it begins. */

/** For each piece, whether each size takes a copy of it: in the order of pieces and of choices. */
export function takenBy(
  pieces: readonly NestPiece[],
  choices: readonly SheetChoice[],
): readonly (readonly boolean[])[] {
  const outlines = pieces.map(outlineOf);
  const smallest = smallestOf(outlines);
  return outlines.map((outline) => {
    const laid = { ...outline, turns: seenOf(outline, smallest).turns };
    return choices.map((choice) => turnsThatFit(laid, choice).length > 0);
  });
}
