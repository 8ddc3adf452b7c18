import type { Path, Point, Region } from "../geometry/types.ts";
import type { Place } from "../problem.ts";

/** A round hole that takes a bolt or a post. */
export interface RoundHole {
  readonly diameterMm: number;
  readonly centre: Point;
}

/** A line, or the stretch of one, on top of others of its kind. */
export interface DrawnTwice {
  readonly operation: "cut" | "score";
  readonly path: Path;
}

/**
 * One part as drawn: mm, y up, 0,0 the lower left corner of an SVG's page (or of a shape's box).
 * Curves are kept as curves; `region` is the polygon made from them.
 */
export interface PartGeometry {
  readonly part: string;
  /** Where it was drawn; a shape's place is its row of the parts list. */
  readonly place: Place;
  /** Closed, counter-clockwise. */
  readonly outline: Path;
  /** Closed, clockwise. */
  readonly holes: readonly Path[];
  readonly scores: readonly Path[];
  /** Closed areas to engrave. */
  readonly engravings: readonly Path[];
  /** What was drawn on top of other lines to cut or score, and is not worked again. */
  readonly drawnTwice: readonly DrawnTwice[];
  /** Outline and holes flattened: vertices on the curve, nowhere further from it than the tolerance. */
  readonly region: Region;
  /** 0 when every line is straight, else the largest distance between curve and polygon, mm. */
  readonly flatteningMm: number;
  /** Inside the outline less the holes, from the curves, mm2. */
  readonly areaMm2: number;
  /** Outline and holes, from the curves, mm. */
  readonly cutLengthMm: number;
  readonly roundHoles: readonly RoundHole[];
}
