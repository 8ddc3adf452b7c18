import type { Region } from "../geometry/types.ts";
import type { SheetChoice } from "./types.ts";

/** Sheets that are no rectangles. */

/**
 * All of the box of a sheet that is not sheet, as regions of material that nothing may overlap, with a
 * wall around the box: what is outside, then what was cut out before. None for a rectangle.
 */
export function outsideOf({
  outline,
  widthMm,
  heightMm,
}: Pick<SheetChoice, "outline" | "widthMm" | "heightMm">): readonly Region[] {
  if (outline === undefined || heightMm === null) return [];
  const { outer, holes } = outline.region;
  const [minX, minY, maxX, maxY] = [-WALL_MM, -WALL_MM, widthMm + WALL_MM, heightMm + WALL_MM];
  const wall = [
    { x: minX, y: minY },
    { x: maxX, y: minY },
    { x: maxX, y: maxY },
    { x: minX, y: maxY },
  ];
  const gone = holes.map((hole): Region => ({ outer: hole.toReversed(), holes: [] }));
  return [{ outer: wall, holes: [outer.toReversed()] }, ...gone];
}

/** So that the outline, which touches its box, is a hole of what is around it. */
const WALL_MM = 10;
