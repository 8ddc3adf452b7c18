import type { Place, Problem } from "../problem.ts";

/** What is wrong at a place, without the place. */
export interface Fault {
  readonly code: string;
  readonly found: string;
  readonly expected: string;
  readonly mend: string;
}

/** More of what was read does not help to find it. */
const MOST_SHOWN = 160;

export function errorAt(place: Place, fault: Fault): Problem {
  return { ...place, ...fault, found: shortened(fault.found), severity: "error" };
}

export function warningAt(place: Place, fault: Fault): Problem {
  return { ...place, ...fault, found: shortened(fault.found), severity: "warning" };
}

/** The same row, one of its columns. */
export function inColumn(place: Place, column: string): Place {
  return { ...place, column };
}

function shortened(found: string): string {
  return found.length > MOST_SHOWN ? `${found.slice(0, MOST_SHOWN)}...` : found;
}
