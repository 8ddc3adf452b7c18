/** How a sheet of some thickness sits in a slot of some width. */

/** From loosest to tightest: falls out, holds by itself, wants a mallet, does not go. */
export type Fit = "loose" | "snug" | "tight" | "no go";

/** Slot less sheet, mm, between which a fit is snug; below 0 the sheet is pressed in. */
export interface Clearance {
  readonly lowMm: number;
  readonly highMm: number;
}

/** Sheet thickness: as measured, all three equal; else the name with what its standard allows. */
export interface Thickness {
  readonly lowMm: number;
  readonly likelyMm: number;
  readonly highMm: number;
  readonly measured: boolean;
}

/**
 * What a mallet still overcomes below the snug clearance, mm. From published trials in 6 mm
 * plywood: with the kerf of the same class of machine, 0.12 mm, slots of 5.8 mm held by themselves,
 * 5.75 took a hammer, 5.5 would not start and 6.0 was loose.
 */
export const MALLET_MM = 0.1;

/** What a caliper does not show, mm, so that a slot on the very limit counts as within. */
const DUST_MM = 0.0005;

/** The fit of a slot as it comes out of the machine. */
export function fitOf(clearanceMm: number, { lowMm, highMm }: Clearance): Fit {
  if (clearanceMm > highMm + DUST_MM) return "loose";
  if (clearanceMm >= lowMm - DUST_MM) return "snug";
  return clearanceMm >= lowMm - MALLET_MM - DUST_MM ? "tight" : "no go";
}

/**
 * The width to draw for a snug fit: thickness - kerf + clearance (shop rule for slots), in the
 * middle of the snug range.
 * @param kerfMm 0 where the cut lines are moved by half the kerf before they are cut.
 */
export function widthToDraw(thicknessMm: number, kerfMm: number, clearance: Clearance): number {
  return thicknessMm - kerfMm + (clearance.lowMm + clearance.highMm) / 2;
}

/** Two materials slot as the one that wants more room: acrylic cracks where wood gives way. */
export function roomier(one: Clearance, other: Clearance): Clearance {
  return {
    lowMm: Math.max(one.lowMm, other.lowMm),
    highMm: Math.max(one.highMm, other.highMm),
  };
}
