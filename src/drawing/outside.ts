import { distanceToSide } from "../geometry/point.ts";
import { flattenPath } from "../geometry/flatten.ts";
import { ringPerimeter } from "../geometry/ring.ts";
import type { Path, Point, Ring } from "../geometry/types.ts";
import { warningAt } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { BandedRing } from "./banded-ring.ts";
import type { PlacedPath } from "./drawn-line.ts";
import { placesText } from "./fault.ts";
import { FLATTENING_MM } from "./flattening.ts";
import { SideGrid } from "./side-grid.ts";

/** Lines that are drawn up to the outline may overrun it by this much, mm. */
const OVERRUN_MM = 0.2;

/** Scores and engravings that leave the outline: the beam would mark the neighbour, or the bed. */
export function outsideOutline(
  outline: Ring,
  kinds: { readonly scores: readonly PlacedPath[]; readonly engravings: readonly PlacedPath[] },
): Problem[] {
  const ring = new BandedRing(outline);
  const isNearEdge = nearEdge(outline);
  const isOutside = (point: Point): boolean => !ring.contains(point) && !isNearEdge(point);
  return [
    ...outside(kinds.scores, isOutside, "a scored line", "score"),
    ...outside(kinds.engravings, isOutside, "an engraving", "engrave"),
  ];
}

function outside(
  lines: readonly PlacedPath[],
  isOutside: (point: Point) => boolean,
  name: string,
  verb: string,
): Problem[] {
  const leaving = lines.flatMap(({ path, place }) => {
    const at = betweenEnds(path).find(isOutside);
    return at === undefined ? [] : [{ place, at }];
  });
  const [first] = leaving;
  if (first === undefined) return [];
  const where = placesText(leaving.map(({ at }) => at));
  const fault = {
    code: "line-outside",
    found: `${leaving.length === 1 ? name : `${name} and ${leaving.length - 1} more`} outside of the outline, at ${where}`,
    expected: `lines to ${verb} inside the outline`,
    mend: "Move or cut off the lines, or let the outline go round them",
  };
  return [warningAt(first.place, fault)];
}

/** Middles of the pieces of a line, since lines often begin and end on the outline. */
export function betweenEnds(path: Path): Point[] {
  const points = flattenPath(path, FLATTENING_MM);
  return points.flatMap((a, index) => {
    const b = points[index + 1] ?? (path.closed ? points[0] : undefined);
    if (b === undefined) return [];
    const pieces = Math.min(MOST_PIECES, Math.ceil(Math.hypot(b.x - a.x, b.y - a.y)));
    return Array.from({ length: pieces }, (_, piece) => {
      const share = (piece + 0.5) / pieces;
      return { x: a.x + share * (b.x - a.x), y: a.y + share * (b.y - a.y) };
    });
  });
}

/** A straight line is looked at every millimetre, or this often. */
const MOST_PIECES = 32;

/** Asks about points outside only, which most drawings do not have: the grid is made when needed. */
function nearEdge(outline: Ring): (point: Point) => boolean {
  const sides = outline.map((a, index) => ({ a, b: outline[(index + 1) % outline.length] ?? a }));
  let grid: SideGrid | null = null;
  return (point) => {
    grid ??= new SideGrid(sides, Math.max(1, ringPerimeter(outline) / sides.length));
    return grid.near({ a: point, b: point }, OVERRUN_MM).some((index) => {
      const side = sides[index];
      return side !== undefined && distanceToSide(point, side.a, side.b) <= OVERRUN_MM;
    });
  };
}
