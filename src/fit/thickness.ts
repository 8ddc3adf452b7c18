import type { Thickness } from "./fit.ts";

/**
 * What a sheet sold by a thickness may really be: over the name by at most `overMm` and
 * `overPerMm` for each mm of it, under it likewise. Standards write their tolerances so:
 * +-(0.4 + 0.1 t) for cast acrylic (ISO 7823-1), +(0.2 + 0.03 t) / -(0.4 + 0.03 t) for sanded
 * plywood.
 */
export interface ThicknessTolerance {
  readonly overMm: number;
  readonly overPerMm: number;
  readonly underMm: number;
  readonly underPerMm: number;
}

/** @param measuredMm by the maker; null where only the name is known. */
export function thicknessOf(
  nominalMm: number,
  measuredMm: number | null,
  { overMm, overPerMm, underMm, underPerMm }: ThicknessTolerance,
): Thickness {
  if (measuredMm !== null)
    return { lowMm: measuredMm, likelyMm: measuredMm, highMm: measuredMm, measured: true };
  return {
    lowMm: nominalMm - underMm - underPerMm * nominalMm,
    likelyMm: nominalMm,
    highMm: nominalMm + overMm + overPerMm * nominalMm,
    measured: false,
  };
}
