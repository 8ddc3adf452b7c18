import type { Point } from "../geometry/types.ts";
import type { Place, Problem } from "../problem.ts";
import { trimmed } from "../units.ts";

/** What is wrong with a drawing, before it is known where. */
export interface Fault {
  readonly code: string;
  readonly found: string;
  readonly expected: string;
  readonly mend: string;
}

export function errorAt(place: Place, fault: Fault): Problem {
  return { ...place, ...fault, severity: "error" };
}

export function warningAt(place: Place, fault: Fault): Problem {
  return { ...place, ...fault, severity: "warning" };
}

/** `12.5, 40 mm`: where it lies, from the lower left corner of the page, y up. */
export function whereText({ x, y }: Point): string {
  return `${trimmed(x, 2)}, ${trimmed(y, 2)} mm`;
}

/** A stretch of an attribute short enough for a message. */
export function excerpt(text: string): string {
  return text.length <= 60 ? text : `${text.slice(0, 57)}...`;
}
