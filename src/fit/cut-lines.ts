import { partGeometry } from "../drawing/assemble.ts";
import type { PartGeometry } from "../drawing/types.ts";
import { offsetPath } from "../geometry/offset.ts";
import { pathBounds } from "../geometry/path.ts";
import type { Path, Point } from "../geometry/types.ts";

/** The lines that the beam follows, where they are not those that are drawn. */

export interface MovedCuts {
  readonly geometry: PartGeometry;
  /** Middles of contours with details smaller than the kerf, which stay as drawn. */
  readonly left: readonly Point[];
}

/**
 * Outline out and holes in by half the kerf, so that the part comes out as drawn. Scores and
 * engravings stay where they are.
 */
export function movedCuts(drawn: PartGeometry, kerfMm: number): MovedCuts {
  const left: Point[] = [];
  // Material lies to the left of every contour, so its right is where the beam should run.
  const moved = (path: Path): Path => {
    const out = offsetPath(path, kerfMm / 2);
    if (out === null) left.push(middleOf(path));
    return out ?? path;
  };
  const outline = moved(drawn.outline);
  const { part, place, scores, engravings } = drawn;
  const lines = { part, place, outline, holes: drawn.holes.map(moved), scores, engravings };
  return { geometry: partGeometry(lines), left };
}

function middleOf(path: Path): Point {
  const { minX, minY, maxX, maxY } = pathBounds(path);
  return { x: (minX + maxX) / 2, y: (minY + maxY) / 2 };
}
