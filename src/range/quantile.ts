/**
 * The value below which a share of sorted values lies, between two of them in proportion (definition 7
 * of Hyndman and Fan, Sample quantiles in statistical packages, The American Statistician 50, 1996).
 * @param sorted upwards, at least one.
 * @param share 0 to 1.
 */
export function quantile(sorted: Float64Array, share: number): number {
  const at = share * (sorted.length - 1);
  const below = Math.floor(at);
  const [low = 0, high = low] = [sorted[below], sorted[below + 1]];
  return low + (at - below) * (high - low);
}
