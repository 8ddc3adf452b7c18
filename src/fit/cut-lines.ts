import { partGeometry } from "../drawing/assemble.ts";
import type { PartGeometry } from "../drawing/types.ts";
import { offsetPath } from "../geometry/offset.ts";

/** The lines that the beam follows, where they are not those that are drawn. */

export interface MovedCuts {
  readonly geometry: PartGeometry;
  /**
   * Contours with details smaller than the kerf, which stay as drawn: 0 for the outline, then the
   * holes from 1.
   */
  readonly left: readonly number[];
}

/**
 * Outline out and holes in by half the kerf, so that the part comes out as drawn. Scores and
 * engravings stay where they are.
 */
export function movedCuts(drawn: PartGeometry, kerfMm: number): MovedCuts {
  const { part, place, scores, engravings, drawnTwice } = drawn;
  const contours = [drawn.outline, ...drawn.holes];
  // Material lies to the left of every contour, so its right is where the beam should run.
  const moved = contours.map((path) => offsetPath(path, kerfMm / 2));
  const [outline = drawn.outline, ...holes] = contours.map((path, index) => moved[index] ?? path);
  return {
    geometry: partGeometry({ part, place, outline, holes, scores, engravings, drawnTwice }),
    left: moved.flatMap((path, index) => (path === null ? [index] : [])),
  };
}
