/** What is known of an uncertain input: `low` <= `likely` <= `high`. */
export interface ThreePoints {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/**
 * The value below which a share of all outcomes lies, for the triangular distribution with its ends at
 * low and high and its peak at the likely value: the usual one where a least, a likely and a most are
 * all that is known (Johnson, The triangular distribution as a proxy for the beta distribution in risk
 * analysis, The Statistician 46, 1997; mean (a + b + c) / 3).
 * @param share 0 to 1.
 */
export function triangleQuantile({ low, likely, high }: ThreePoints, share: number): number {
  const width = high - low;
  if (width === 0) return likely;
  return share < (likely - low) / width
    ? low + Math.sqrt(share * width * (likely - low))
    : high - Math.sqrt((1 - share) * width * (high - likely));
}
