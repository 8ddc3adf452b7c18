import type { Outline } from "./outline.ts";
import type { SheetChoice, Unplaced } from "./types.ts";

/** The copies that found no place, and why; `left` and `fits` go by the number of the outline. */
export function unplacedOf(
  outlines: readonly Outline[],
  choice: SheetChoice,
  left: readonly number[],
  fits: readonly boolean[],
): readonly Unplaced[] {
  return outlines.flatMap(({ piece: { part } }, index) => {
    const reason = fits[index]! ? stockUsedUp(choice) : tooLarge(choice);
    return left[index] === 0 ? [] : [{ part, copies: left[index]!, reason }];
  });
}

function tooLarge({ longestMm }: SheetChoice): string {
  const most = longestMm === null ? "the sheet" : `the ${longestMm} mm of roll that the bed takes`;
  return `larger than ${most} less its margin in every allowed turn`;
}

function stockUsedUp({ form, onHand }: SheetChoice): string {
  const stock = form === "sheet" ? (onHand === 1 ? "sheet" : "sheets") : "m of roll";
  return `no room left on the ${onHand ?? 0} ${stock} on hand`;
}
