import { boundsOf } from "../geometry/ring.ts";
import type { Placed } from "./columns.ts";
import { GrownParts } from "./grown.ts";
import { outsideOf } from "./sheet-outline.ts";
import { coveringParts } from "./simplify.ts";
import type { SheetChoice } from "./types.ts";

/**
 * What is around an odd-shaped sheet, and what is gone out of it, as pieces that lie there before any
 * other: grown so that others keep the margin from it. None for a rectangle.
 *
 * @param firstIndex of variants, from which on no other has one.
 */
export function standingOn(
  choice: SheetChoice,
  firstIndex: number,
  stepMm: number,
): readonly Placed[] {
  const { marginMm, gapMm, outline } = choice;
  // Each piece is grown by half the gap itself.
  const byMm = Math.max(0, marginMm - gapMm / 2) + (outline?.flatteningMm ?? 0);
  return outsideOf(choice).map((region, number): Placed => {
    const turned = { turnDeg: 0, mirrored: false };
    const parts = coveringParts(region);
    const variant = {
      ...turned,
      number,
      index: firstIndex + number,
      box: boundsOf(region.outer),
      upright: true,
      grown: new GrownParts(parts, turned, byMm),
      room: { minX: 0, minY: 0, maxX: 0, maxY: 0 },
      intricate: false,
      stepMm,
    };
    return { shape: NO_SHAPE, variant, x: 0, y: 0, at: -1 };
  });
}

const NO_SHAPE = -1;
