import type { Path } from "../geometry/types.ts";
import type { Operation } from "../job/types.ts";
import type { Checked, Place } from "../problem.ts";
import type { LineMarks } from "./line-rules.ts";

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

export interface LinesRead extends Checked<DrawnLines> {
  /**
   * All lines, also where a text or a picture beside them stands in the way of the value, so that
   * one fault hides no other; null where lines may be missing.
   */
  readonly drawn: DrawnLines | null;
  /** Of every line that was met, also where something is wrong. */
  readonly marks: readonly LineMarks[];
}
