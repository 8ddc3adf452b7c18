import { polylinePath } from "../geometry/path.ts";
import type { Path, Point } from "../geometry/types.ts";
import { widthToDraw } from "./fit.ts";
import type { Clearance, Thickness } from "./fit.ts";
import { strokeDigits, strokesWidth } from "./stroke-digits.ts";

/** A strip with open slots in steps, to find by trial how wide a sheet's slots must be drawn. */

/** mm, y up, 0,0 the lower left corner. */
export interface Comb {
  readonly widthMm: number;
  readonly heightMm: number;
  /** Counter-clockwise. */
  readonly outline: Path;
  /** Each slot's drawn width in figures below it, to be scored. */
  readonly figures: readonly Path[];
  /** Widths of the slots as drawn, from left to right. */
  readonly slotsMm: readonly number[];
}

/** Between slots that fit a measured sheet by trial (shop practice: steps of 0.05 to 0.1 mm). */
const FINE_STEP_MM = 0.05;
const COARSE_STEP_MM = 0.1;

/** Looser and tighter than any snug slot by so much, so that the trial shows both ends. */
const BEYOND_MM = 0.1;

const MOST_SLOTS = 24;

const HEIGHT_MM = 30;
const DEPTH_MM = 14;
const FIGURE_MM = 3;
/** Material left standing between slots, and at the ends, in sheet thicknesses and at least. */
const TOOTH_THICKNESSES = 2;
const LEAST_TOOTH_MM = 8;

/**
 * Slots for every thickness that the sheet may have, from tight to loose.
 * @param kerfMm 0 where the cut lines are moved by half the kerf before they are cut.
 */
export function combFor(thickness: Thickness, kerfMm: number, clearance: Clearance): Comb {
  const slotsMm = stepsBetween(
    widthToDraw(thickness.lowMm, kerfMm, { ...clearance, highMm: clearance.lowMm }) - BEYOND_MM,
    widthToDraw(thickness.highMm, kerfMm, { ...clearance, lowMm: clearance.highMm }) + BEYOND_MM,
    thickness.measured ? FINE_STEP_MM : COARSE_STEP_MM,
  );
  const tooth = Math.max(LEAST_TOOTH_MM, TOOTH_THICKNESSES * thickness.likelyMm, LABEL_MM);
  const lefts: number[] = [];
  let x = tooth;
  for (const slot of slotsMm) {
    lefts.push(x);
    x += slot + tooth;
  }
  const widthMm = x;
  return {
    widthMm,
    heightMm: HEIGHT_MM,
    outline: outlineOf(widthMm, lefts, slotsMm),
    figures: slotsMm.flatMap((slot, index) =>
      figuresBelow(slot, lefts[index] ?? 0, thickness.measured ? 2 : 1),
    ),
    slotsMm,
  };
}

/** Room for `12.85` between the middles of neighbouring slots. */
const LABEL_MM = strokesWidth("00.00", FIGURE_MM);

/** On whole multiples of the step, so that the figures below the slots are what is drawn. */
function stepsBetween(low: number, high: number, step: number): number[] {
  const first = Math.max(1, Math.round(low / step));
  const count = Math.max(1, Math.ceil(high / step - 1e-9) - first + 1);
  const stride = Math.ceil(count / MOST_SLOTS);
  return Array.from({ length: Math.ceil(count / stride) }, (_, index) =>
    Number(((first + index * stride) * step).toFixed(2)),
  );
}

function outlineOf(width: number, lefts: readonly number[], slots: readonly number[]): Path {
  const floor = HEIGHT_MM - DEPTH_MM;
  const notches = lefts
    .map((left, index) => ({ left, right: left + (slots[index] ?? 0) }))
    .toReversed()
    .flatMap(({ left, right }): Point[] => [
      { x: right, y: HEIGHT_MM },
      { x: right, y: floor },
      { x: left, y: floor },
      { x: left, y: HEIGHT_MM },
    ]);
  const corners: [Point, ...Point[]] = [
    { x: 0, y: 0 },
    { x: width, y: 0 },
    { x: width, y: HEIGHT_MM },
    ...notches,
    { x: 0, y: HEIGHT_MM },
  ];
  return polylinePath(corners, true);
}

function figuresBelow(slot: number, left: number, decimals: number): Path[] {
  const text = slot.toFixed(decimals);
  const middle = left + slot / 2 - strokesWidth(text, FIGURE_MM) / 2;
  return strokeDigits(text, { x: middle, y: (HEIGHT_MM - DEPTH_MM - FIGURE_MM) / 2 }, FIGURE_MM);
}
