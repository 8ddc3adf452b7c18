import type { Feed, SheetTime } from "../machine/types.ts";
import { Amount } from "../money.ts";
import { priceJob } from "../pricing/price.ts";
import { stockId } from "../pricing/stock-figures.ts";
import type { FigureRecord } from "../pricing/types.ts";
import { pricedStock } from "./priced-stock.ts";
import type { ReadyToRun } from "./ready.ts";
import { leftoverFor } from "./leftovers.ts";
import { chosenNest, nestsTried } from "./sheets-tried.ts";
import type { NestedGroup } from "./sheets-tried.ts";
import { piecesOf } from "./stock-groups.ts";
import type { StockGroup } from "./stock-groups.ts";
import { feedsOf, timeNest } from "./time.ts";
import type { Nest } from "../nesting/types.ts";

/**
 * Sheets chosen by what the whole job costs with them. The search looks for the cheapest sheets; but
 * two small ones want laying down twice, and what that costs may be more than they save.
 */

/** Prices a job on other sheets than those chosen. */
export class WholeCost {
  readonly #ready: ReadyToRun;
  readonly #times = new Map<Nest, readonly SheetTime[]>();

  constructor(ready: ReadyToRun) {
    this.#ready = ready;
  }

  /**
   * What the maker lays out for the job with one group on the sheets of a nest, and the others on those chosen;
   * null where some copy has no place, or there is no price.
   */
  of(nested: readonly NestedGroup[], group: NestedGroup, nest: Nest): Amount | null {
    const { read, machine } = this.#ready;
    const { job, tables, parts } = read;
    const { currency } = tables;
    const stocks = nested.map((one) => {
      const its = one === group ? nest : chosenNest(one);
      const feeds = feedsOf(one.group, tables, machine).value;
      if (its === null || its.unplaced.length > 0 || feeds === null) return null;
      const times = this.#timesOf(one, its, feeds);
      const leftover = leftoverFor(piecesOf(one.group, 1), its);
      return pricedStock({ nested: one, nest: its, times, feeds, leftover });
    });
    const whole = stocks.flatMap((stock) => stock ?? []);
    if (currency === null || stocks.includes(null)) return null;
    const priced = priceJob({ job, tables, currency, machine, parts, stocks: whole, bars: [] });
    return priced.value && outlay(priced.value.figures, whole);
  }

  #timesOf(group: NestedGroup, nest: Nest, feeds: readonly Feed[]): readonly SheetTime[] {
    const { read, machine } = this.#ready;
    const known = this.#times.get(nest);
    if (known !== undefined) return known;
    const times = timeNest(group, nest, feeds, machine, read.job.commonCuts);
    this.#times.set(nest, times);
    return times;
  }
}

/** The direct cost, with whole sheets whatever of them the customer is charged for. */
function outlay(
  figures: readonly FigureRecord[],
  stocks: readonly Pick<StockGroup, "material" | "thicknessMm">[],
): Amount {
  const values = new Map(figures.map(({ id, value }) => [id, value]));
  return stocks.reduce(
    (sum, stock) => {
      const [cost, charged] = ["cost", "charged"].map((what) => values.get(stockId(stock, what)));
      return charged === undefined ? sum : sum.plus(cost ?? 0).minus(charged);
    },
    new Amount(values.get("cost.direct") ?? 0),
  );
}

/** The groups, each with the sheets on which the whole job costs least, group after group. */
export function chooseSheets(
  ready: ReadyToRun,
  nested: readonly NestedGroup[],
): readonly NestedGroup[] {
  const cost = new WholeCost(ready);
  const chosen = [...nested];
  for (const [index, group] of nested.entries()) {
    const nest = cheapestOf(cost, chosen, group);
    if (nest !== null) chosen[index] = { ...group, chosen: nest };
  }
  return chosen;
}

/** Null where there is nothing to choose, or nothing that costs less. */
function cheapestOf(
  cost: WholeCost,
  nested: readonly NestedGroup[],
  group: NestedGroup,
): Nest | null {
  const best = chosenNest(group);
  if (best === null || best.unplaced.length > 0) return null;
  const rivals = nestsTried(group).filter((nest) => nest !== best && mayCostLess(nest, best));
  if (rivals.length === 0) return null;
  let least = cost.of(nested, group, best);
  let cheapest: Nest | null = null;
  for (const nest of rivals) {
    const spent = cost.of(nested, group, nest);
    if (least === null || spent === null || spent.gte(least)) continue;
    least = spent;
    cheapest = nest;
  }
  return cheapest;
}

/** Dearer sheets, and no fewer to lay down, save nothing. */
function mayCostLess(nest: Nest, best: Nest): boolean {
  if (nest.unplaced.length > 0) return false;
  return nest.sheets.length < best.sheets.length || nest.sheetCost.lt(best.sheetCost);
}
