import type { Estimate, EstimatedPart, SheetsUsed, TimedStock } from "../estimate-data.ts";
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

/** Form, margin and gap are those of the first size, where several are used. */
export interface TimedStockJson
  extends Omit<TimedStock, "times">, Partial<Pick<SheetsUsed, "form" | "marginMm" | "gapMm">> {
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
  const [first] = stock.used;
  const size = first && { form: first.form, marginMm: first.marginMm, gapMm: first.gapMm };
  return { ...stock, ...size, times: times.map(({ order: _order, ...time }) => time) };
}
