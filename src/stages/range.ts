import type { Estimate, PriceRange } from "../estimate-data.ts";
import { Amount, moneyText } from "../money.ts";
import { figureOf } from "../pricing/figure-record.ts";
import { rangeOf } from "../range/range.ts";

/**
 * How far cost and profit may lie off at the price quoted. The contingency is no part of this cost: it
 * is held back for just what is drawn here, and what of it is not needed is profit.
 */
export function priceRange(estimate: Estimate): PriceRange | null {
  const { currency, seed } = estimate;
  const figures = estimate.figures.map(figureOf);
  const range = rangeOf(figures, COST, { seed, draws: DRAWS });
  if (range === null) return null;
  const labels = new Map(figures.map(({ id, label }) => [id, label]));
  const valueOf = (id: string): number =>
    figures.find((figure) => figure.id === id)?.value.toNumber() ?? 0;
  const net = valueOf("quote.net");
  const money = (value: number): string => moneyText(new Amount(value), currency);
  const { p10, p50, p90 } = range;
  return {
    draws: DRAWS,
    likelyCost: money(valueOf(COST)),
    contingency: money(valueOf("cost.contingency")),
    cost: { p10: money(p10), p50: money(p50), p90: money(p90) },
    // What costs most earns least.
    profit: { p10: money(net - p90), p50: money(net - p50), p90: money(net - p10) },
    lossChance: range.draws.filter((cost) => cost > net).length / DRAWS,
    drivers: range.drivers.map(({ figures: ids, place, atP10, atP90, swing, share }) => ({
      label: labels.get(ids[0] ?? "") ?? "",
      figures: ids,
      place,
      costs: [money(Math.min(atP10, atP90)), money(Math.max(atP10, atP90))],
      swing: money(swing),
      share: Number(share.toFixed(SHARE_DECIMALS)),
    })),
  };
}

const COST = "cost.with-overhead";
const DRAWS = 10_000;
const SHARE_DECIMALS = 4;
