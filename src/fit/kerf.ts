import type { KerfRow } from "../job/types.ts";
import { sameThickness } from "../units.ts";

/** How wide the beam cuts. */
export interface Kerf {
  readonly mm: number;
  /** The row of the thickness itself, or the two it was taken between. */
  readonly rows: readonly [KerfRow] | readonly [thinner: KerfRow, thicker: KerfRow];
}

/**
 * The kerf of a machine in a material and thickness: of its row, else on the straight line between
 * the next thinner and the next thicker row (common practice, no source). Null outside the rows:
 * kerfs published for one material differ too much to be drawn out further.
 */
export function kerfFor(
  rows: readonly KerfRow[],
  machine: string,
  material: string,
  thicknessMm: number,
): Kerf | null {
  const own = rows.filter((row) => row.machine === machine && row.material === material);
  const exact = own.find((row) => sameThickness(row.thicknessMm, thicknessMm));
  if (exact !== undefined) return { mm: exact.kerfMm, rows: [exact] };
  const sorted = own.toSorted((a, b) => a.thicknessMm - b.thicknessMm);
  const thinner = sorted.findLast((row) => row.thicknessMm < thicknessMm);
  const thicker = sorted.find((row) => row.thicknessMm > thicknessMm);
  if (thinner === undefined || thicker === undefined) return null;
  const share = (thicknessMm - thinner.thicknessMm) / (thicker.thicknessMm - thinner.thicknessMm);
  const mm = thinner.kerfMm + share * (thicker.kerfMm - thinner.kerfMm);
  return { mm, rows: [thinner, thicker] };
}
