import type { Point } from "../geometry/types.ts";
import { trimmed } from "../units.ts";

/** `12.5, 40 mm`: where it lies, from the lower left corner of the page, y up. */
export function whereText({ x, y }: Point): string {
  return `${trimmed(x, 2)}, ${trimmed(y, 2)} mm`;
}

const MOST_PLACES = 5;

/** `12.5, 40 mm; 3, 4 mm; and 7 more places`. */
export function placesText(points: readonly Point[]): string {
  const shown = points.slice(0, MOST_PLACES).map(whereText);
  const rest = points.length - shown.length;
  return [...shown, ...(rest > 0 ? [`and ${rest} more places`] : [])].join("; ");
}

/** A stretch of an attribute short enough for a message. */
export function excerpt(text: string): string {
  return text.length <= 60 ? text : `${text.slice(0, 57)}...`;
}
