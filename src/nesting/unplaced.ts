import type { Outline } from "./outline.ts";
import type { SheetChoice, Unplaced } from "./types.ts";

/** The copies that found no place, and why; `left` and `fits` go by the number of the outline. */
export function unplacedOf(
  outlines: readonly Outline[],
  choices: readonly SheetChoice[],
  left: readonly number[],
  fits: readonly boolean[],
): readonly Unplaced[] {
  return outlines.flatMap(({ piece: { part } }, index) => {
    const reason = fits[index]! ? stockUsedUp(choices) : tooLarge(choices);
    return left[index] === 0 ? [] : [{ part, copies: left[index]!, reason }];
  });
}

function tooLarge([only, ...others]: readonly SheetChoice[]): string {
  const longestMm = others.length === 0 ? (only?.longestMm ?? null) : null;
  const sheets = others.length === 0 ? "the sheet" : "every sheet";
  const most = longestMm === null ? sheets : `the ${longestMm} mm of roll that the bed takes`;
  return `larger than ${most} less its margin in every allowed turn`;
}

function stockUsedUp([only, ...others]: readonly SheetChoice[]): string {
  if (only === undefined || others.length > 0) return "no room left on all sheets on hand";
  const { form, onHand } = only;
  const stock = form === "sheet" ? (onHand === 1 ? "sheet" : "sheets") : "m of roll";
  return `no room left on the ${onHand ?? 0} ${stock} on hand`;
}
