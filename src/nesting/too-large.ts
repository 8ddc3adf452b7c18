import { turnsThatFit } from "./bed.ts";
import { convexHull } from "./convex.ts";
import { turnsOf } from "./shapes.ts";
import type { NestPiece, SheetChoice } from "./types.ts";

/** Whether a size of sheet takes a piece at all, asked as the search asks it, before it begins. */

/** For each piece, whether each size takes a copy of it: in the order of pieces and of choices. */
export function takenBy(
  pieces: readonly NestPiece[],
  choices: readonly SheetChoice[],
): readonly (readonly boolean[])[] {
  return pieces.map((piece) => {
    const hull = convexHull([piece.region.outer, ...piece.region.holes].flat());
    const laid = { piece, hull, turns: turnsOf(piece, hull, piece.region) };
    return choices.map((choice) => turnsThatFit(laid, choice).length > 0);
  });
}
