import type { Path } from "../geometry/types.ts";
import type { Operation } from "../job/types.ts";
import type { Place } from "../problem.ts";

/** A line of a drawing and where it stands; mm, y up. */
export interface PlacedPath {
  readonly path: Path;
  readonly place: Place;
}

export interface DrawnLine extends PlacedPath {
  readonly operation: Operation;
}

/** Lines of a drawing or of one element or layer of it, and where that stands. */
export interface DrawnLines {
  readonly lines: readonly DrawnLine[];
  readonly place: Place;
}
