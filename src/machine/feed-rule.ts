import type { FeedRow, Operation, Spread } from "../job/types.ts";

/**
 * How the feed falls with the thickness, for thicknesses that a table has no row for.
 *
 * A beam of given power needs a certain energy for each mm2 of cut face; what it loses grows with
 * the depth, so that the feed falls faster than the thickness grows: v = v1 (t/t1)^-n. Rows of one
 * machine and material agree with n from 1.3 to 1.6 (derived from the published speeds of a college
 * course slide table). What is compared is the feed over all passes, v / passes, since that is what
 * the energy goes by: otherwise a sheet between one with one pass and one with two could come out
 * slower than the thicker of them.
 */

/** A feed over all passes (mm/s over the number of passes) in a thickness, mm. */
export interface FeedPoint {
  readonly thicknessMm: number;
  readonly feedMmS: number;
}

/** n of v proportional to t^-n through two points of different thickness; below 0 it rises. */
export function exponentOf(a: FeedPoint, b: FeedPoint): number {
  return -Math.log(b.feedMmS / a.feedMmS) / Math.log(b.thicknessMm / a.thicknessMm);
}

/** The feed on the curve through a point. */
export function feedAt(point: FeedPoint, exponent: number, thicknessMm: number): number {
  return point.feedMmS * (thicknessMm / point.thicknessMm) ** -exponent;
}

/**
 * n where one row is all there is: from published speeds for cuts (energy rule of the same slide
 * table, materials as measured there); 0 for scoring and engraving, whose mark on the surface does
 * not ask how thick the sheet is. Null for a material that nobody has published two thicknesses of.
 */
export function usualExponent(operation: Operation, material: string): number | null {
  if (operation !== "cut") return 0;
  return PUBLISHED.find(({ name }) => name.test(material))?.exponent ?? null;
}

const PUBLISHED: readonly { readonly name: RegExp; readonly exponent: number }[] = [
  { name: /acrylic/i, exponent: 1.3 },
  { name: /\bply(?:wood)?\b/i, exponent: 1.5 },
  { name: /\bmdf\b/i, exponent: 1.4 },
];

/** Low, likely and high worked out each by itself, and kept in order. */
export function spreadBy(of: (which: keyof Spread) => number): Spread {
  const likely = of("likely");
  return { low: Math.min(of("low"), likely), likely, high: Math.max(of("high"), likely) };
}

/** One of a row's three feeds, over all its passes. */
export function pointOf(row: FeedRow, which: keyof Spread): FeedPoint {
  return { thicknessMm: row.thicknessMm, feedMmS: row.feedMmS[which] / row.passes };
}
