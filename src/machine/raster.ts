import { boundsOf } from "../geometry/ring.ts";
import { pathBounds } from "../geometry/path.ts";
import type { Box, Path } from "../geometry/types.ts";
import { moveTime } from "./motion.ts";

/** Engraving: the beam goes to and fro in lines along x over the box around what is engraved. */

export interface RasterBlock {
  readonly box: Box;
  /** Lines needed to cover its height, at least one. */
  readonly lines: number;
  /** Of all lines together, without the way in which the beam turns round. */
  readonly lengthMm: number;
}

/** One block around all the paths. */
export function rasterBlock(paths: readonly Path[], lineIntervalMm: number): RasterBlock {
  const boxes = paths.map(pathBounds);
  const box = boundsOf(
    boxes.flatMap(({ minX, minY, maxX, maxY }) => [
      { x: minX, y: minY },
      { x: maxX, y: maxY },
    ]),
  );
  const lines = Math.max(1, Math.ceil((box.maxY - box.minY) / lineIntervalMm - ROUNDING));
  return { box, lines, lengthMm: lines * (box.maxX - box.minX) };
}

/** How the beam comes from one line to the next. */
export interface RasterWay {
  /** Along the lines. */
  readonly accelerationMmS2: number;
  /** Back to the start of the next line with the beam off; null where lines are engraved to and fro. */
  readonly backMmS: number | null;
}

/**
 * Time over the block once, s: each line at full speed, then a turn outside it, which takes 2 v/a and
 * v^2/(2a) to either side at constant deceleration (physics of uniform deceleration). In one direction
 * alone the beam comes to rest there and goes back all the way.
 */
export function rasterTime(
  { lines, lengthMm }: RasterBlock,
  speedMmS: number,
  { accelerationMmS2, backMmS }: RasterWay,
): number {
  const oneWay = lengthMm / speedMmS + (lines * 2 * speedMmS) / accelerationMmS2;
  if (backMmS === null) return oneWay;
  const backMm = lengthMm / lines + 2 * overscan(speedMmS, accelerationMmS2);
  return oneWay + (lines - 1) * moveTime(backMm, backMmS, accelerationMmS2);
}

/** How far the beam runs out on either side of a line, mm. */
export function overscan(speedMmS: number, accelerationMmS2: number): number {
  return speedMmS ** 2 / (2 * accelerationMmS2);
}

/** So that 1.1 mm at 0.1 mm are 11 lines, though the quotient comes out a little larger. */
const ROUNDING = 1e-9;
