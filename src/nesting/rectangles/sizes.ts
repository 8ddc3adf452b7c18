import type { Laid } from "../filled.ts";
import { openRegion, smallestOf, type Outline } from "../outline.ts";
import { boxAngle, turnedAs } from "../turns.ts";
import type { SheetChoice } from "../types.ts";

/** What the search for rectangles sees of the pieces and of the sheets. */

/** A piece whose outline is a rectangle along the sheet's edges in one of its allowed turns. */
export interface Rectangle {
  readonly copies: number;
  /** As it lies in the first of `ways`, with the flattening to every side, mm. */
  readonly widthMm: number;
  readonly heightMm: number;
  /** One, or two a quarter turn apart where that is allowed and comes to something else. */
  readonly ways: readonly Laid["variant"][];
  readonly flatteningMm: number;
}

export interface Rectangles {
  /** One for each outline, in their order. */
  readonly rectangles: readonly Rectangle[];
  /** Some hole could take another piece; here all holes stay empty. */
  readonly hollow: boolean;
}

/** The pieces as rectangles; null when any of them is none. */
export function rectanglesOf(outlines: readonly Outline[]): Rectangles | null {
  const rectangles: Rectangle[] = [];
  for (const outline of outlines) {
    const rectangle = rectangleOf(outline);
    if (rectangle === null) return null;
    rectangles.push(rectangle);
  }
  const smallest = smallestOf(outlines);
  const hollow = outlines.some(({ piece: { region } }) => {
    if (region.holes.length === 0) return false;
    const open = openRegion(region, smallest);
    return open !== null && open.holes.length > 0;
  });
  return { rectangles, hollow };
}

function rectangleOf({ piece, hull, outerAreaMm2 }: Outline): Rectangle | null {
  const { copies, turn, flatteningMm } = piece;
  const base = turn === "any" ? boxAngle(hull) : 0;
  const along = turnedAs(hull, base, false);
  const { minX, minY, maxX, maxY } = along.box;
  const boxMm2 = (maxX - minX) * (maxY - minY);
  if (!(outerAreaMm2 >= boxMm2 * (1 - MISSING_SHARE))) return null;
  const [widthMm, heightMm] = [maxX - minX + 2 * flatteningMm, maxY - minY + 2 * flatteningMm];
  const turnable =
    (turn === "any" || turn === "quarter") && sideInUnits(widthMm) !== sideInUnits(heightMm);
  const ways = turnable ? [along, turnedAs(hull, base + 90, false)] : [along];
  return { copies, widthMm, heightMm, ways, flatteningMm };
}

/**
 * What an outline may lack of its box and still be laid as a rectangle: the rounded corners of a
 * plate, and the noise of its coordinates. The whole box is kept free, so this costs material but
 * never a collision.
 */
const MISSING_SHARE = 0.005;

/**
 * Lengths are counted in whole units, so that what fits to the last hair is seen to fit and sums are
 * exact. A piece is at most a unit larger than it is taken for, and positions add up what it is taken
 * for: nothing comes closer than a unit too near, a tenth of what the judge sees.
 */
const UNITS_PER_MM = 1e7;

export function inUnits(lengthMm: number): number {
  return Math.round(lengthMm * UNITS_PER_MM);
}

/** Of a side of a piece: seven sevenths of a length are no more than the length. */
export function sideInUnits(lengthMm: number): number {
  return Math.floor(lengthMm * UNITS_PER_MM + NOISE);
}

/** Of a length worked out in floating point, in units. */
const NOISE = 0.01;

export function inMm(units: number): number {
  return units / UNITS_PER_MM;
}

/** Inside the margins and grown by the gap, as the rectangles are: then they may touch. */
export function roomOf(
  { widthMm, marginMm, gapMm }: SheetChoice,
  lengthMm: number,
): { readonly width: number; readonly height: number } {
  const inner = (sideMm: number): number => inUnits(sideMm - 2 * marginMm + gapMm);
  return { width: inner(widthMm), height: inner(lengthMm) };
}
