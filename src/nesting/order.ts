import { boundsOf } from "../geometry/ring.ts";
import type { Region, Ring } from "../geometry/types.ts";
import type { Outline } from "./outline.ts";

/**
 * The order that the search goes by, whatever the order of the parts list: by falling area, longest
 * side, then by all else that a layout depends on. Names decide only between pieces that are alike,
 * so that the same parts make the same layout, up to the names of those.
 */
export function inOrder(outlines: readonly Outline[]): readonly Outline[] {
  return outlines
    .map((outline) => ({ outline, keys: keysOf(outline) }))
    .sort((a, b) => compared(a.keys, b.keys) || byOutline(a.outline, b.outline))
    .map(({ outline }) => outline);
}

function keysOf({ piece, outerAreaMm2, areaMm2 }: Outline): readonly number[] {
  const { minX, minY, maxX, maxY } = boundsOf(piece.region.outer);
  const sides = [maxX - minX, maxY - minY].sort((a, b) => b - a);
  const { holes, outer } = piece.region;
  return [-outerAreaMm2, ...sides.map((side) => -side), -areaMm2, outer.length, holes.length];
}

function byOutline({ piece: a }: Outline, { piece: b }: Outline): number {
  return (
    comparedRegions(a.region, b.region) ||
    a.copies - b.copies ||
    a.flatteningMm - b.flatteningMm ||
    comparedTexts(a.turn, b.turn) ||
    Number(a.flip) - Number(b.flip) ||
    comparedTexts(a.part, b.part)
  );
}

/** Of as many holes. */
function comparedRegions(a: Region, b: Region): number {
  for (const [index, ring] of [a.outer, ...a.holes].entries()) {
    const other = [b.outer, ...b.holes][index]!;
    const order = ring.length - other.length || compared(coordinates(ring), coordinates(other));
    if (order !== 0) return order;
  }
  return 0;
}

function coordinates(ring: Ring): readonly number[] {
  return ring.flatMap(({ x, y }) => [x, y]);
}

/** Of as many numbers. */
function compared(a: readonly number[], b: readonly number[]): number {
  for (const [index, number] of a.entries()) {
    const order = number - b[index]!;
    if (order !== 0) return order;
  }
  return 0;
}

/** By code units, the same everywhere. */
function comparedTexts(a: string, b: string): number {
  if (a === b) return 0;
  return a < b ? -1 : 1;
}
