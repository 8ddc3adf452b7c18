import type { Estimate, EstimatedPart, TimedStock } from "../estimate-data.ts";
import type { SheetTime } from "../machine/types.ts";

/** The estimate as `quote --json` prints it: without outlines, which the layouts hold. */
export interface EstimateJson extends Omit<Estimate, "parts" | "stocks"> {
  readonly parts: readonly PartJson[];
  readonly stocks: readonly TimedStockJson[];
}

export interface PartJson extends Omit<EstimatedPart, "geometry" | "cut"> {
  readonly areaMm2: number;
  readonly cutLengthMm: number;
}

export interface TimedStockJson extends Omit<TimedStock, "times"> {
  readonly times: readonly Omit<SheetTime, "order">[];
}

export function estimateJson(estimate: Estimate): EstimateJson {
  const parts = estimate.parts.map(({ geometry, cut: _cut, ...part }) => ({
    ...part,
    areaMm2: geometry.areaMm2,
    cutLengthMm: geometry.cutLengthMm,
  }));
  return { ...estimate, parts, stocks: estimate.stocks.map(timedStockJson) };
}

export function timedStockJson({ times, ...stock }: TimedStock): TimedStockJson {
  return { ...stock, times: times.map(({ order: _order, ...time }) => time) };
}
