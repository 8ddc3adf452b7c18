import type { FilledSheet } from "../../../src/nesting/filled.ts";
import { unplacedOf } from "../../../src/nesting/unplaced.ts";
import { judge } from "../../../src/nesting/check.ts";
import { outlineOf } from "../../../src/nesting/outline.ts";
import type { RectangleNest } from "../../../src/nesting/rectangles/laid.ts";
import { layRectangles } from "../../../src/nesting/rectangles/search.ts";
import { rectanglesOf } from "../../../src/nesting/rectangles/sizes.ts";
import { triedOf } from "../../../src/nesting/tried.ts";
import type { NestPiece, SheetChoice } from "../../../src/nesting/types.ts";
import { boxFaults } from "./sweep-judge.ts";

/** Runs the search for rectangles, and judges all that it finds. */

/** The best after so many breaths, or fewer when there is nothing more to gain. */
export function laidAfter(
  pieces: readonly NestPiece[],
  choices: readonly SheetChoice[],
  breaths = 3,
  seed = 1,
): RectangleNest {
  const { rectangles } = rectanglesOf(pieces.map(outlineOf))!;
  let best: RectangleNest | null = null;
  for (const found of layRectangles({ rectangles }, choices, seed)) {
    ({ best } = found);
    if (--breaths <= 0) break;
  }
  if (best === null) throw new Error("the search gave nothing at all");
  return best;
}

/** By the product's judge and by the one of this folder. */
export function faultsOf(
  pieces: readonly NestPiece[],
  choices: readonly SheetChoice[],
  { sheets, left, fits }: RectangleNest,
): readonly unknown[] {
  const outlines = pieces.map(outlineOf);
  const unplaced = unplacedOf(outlines, choices, left, fits);
  const { nest } = triedOf(outlines, choices, { sheets, unplaced });
  return [
    ...judge(pieces, choices, nest.sheets, unplaced),
    ...sheets.flatMap((sheet: FilledSheet) => boxFaults(pieces, sheet)),
  ];
}
