import type { Estimate } from "../estimate-data.ts";
import { Amount, moneyText } from "../money.ts";
import type { Currency } from "../money.ts";
import type { DecimalText } from "../pricing/types.ts";
import { checked, isError } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import { costOnce, varyingFigures } from "./cost-once.ts";

/** What a job costs by the number of pieces, and what falls with it. */

export interface LotsReport {
  readonly version: 1;
  readonly title: string;
  readonly pieceName: string;
  readonly currency: Currency;
  /** Rounds that each was nested in. */
  readonly steps: number;
  readonly seed: number;
  /** By number of pieces, lowest first. */
  readonly lots: readonly Lot[];
}

export interface Lot {
  readonly pieces: number;
  /** The number that the job says. */
  readonly own: boolean;
  /** Null where so many can not be made. */
  readonly price: LotPrice | null;
  /** Why not; else what is worth knowing. */
  readonly problems: readonly Problem[];
}

export interface LotPrice {
  /** Net, of one piece, rounded. */
  readonly each: DecimalText;
  readonly net: DecimalText;
  /** With tax. */
  readonly total: DecimalText;
  readonly profit: DecimalText;
  readonly direct: DecimalText;
  /** Of the direct cost, what comes once, however many pieces; null for a single lot. */
  readonly once: DecimalText | null;
  /** Direct cost by section of the quote. */
  readonly sections: readonly { readonly name: string; readonly cost: DecimalText }[];
  /** To buy; of a roll the lengths. */
  readonly sheets: number;
  readonly machineMinutes: DecimalText;
  readonly cans: number;
  readonly handHours: DecimalText;
  /** From order to hand-over; null where the tables do not say how long a day is. */
  readonly workingDays: number | null;
  /** Of the money for sheets, what parts cover of them, 0 to 1; null without sheets. */
  readonly sheetsUsed: number | null;
  /** Of the money for paint, what is used up, 0 to 1; null without paint. */
  readonly paintUsed: number | null;
}

interface Priced {
  readonly numbers: readonly number[];
  /** The job's own. */
  readonly own: number;
  /** For each of the numbers. */
  readonly priced: readonly Checked<Estimate>[];
}

/** Problems where not one of them can be made. */
export function lotsReport({ numbers, own, priced }: Priced): Checked<LotsReport> {
  const estimates = priced.flatMap(({ value }) => value ?? []);
  const [first] = estimates;
  if (first === undefined)
    return { value: null, problems: priced.flatMap(({ problems }) => problems.filter(isError)) };
  const { title, pieceName, currency, steps, seed } = first;
  const varying = varyingFigures(estimates);
  const lots = priced.map(({ value, problems }, index): Lot => {
    const pieces = numbers[index] ?? 0;
    const price = value && priceOf(value, varying);
    return { pieces, own: pieces === own, price, problems };
  });
  const said = lots.find((lot) => lot.own)?.problems ?? [];
  const warnings = said.filter((problem) => !isError(problem));
  return checked({ version: 1, title, pieceName, currency, steps, seed, lots }, warnings);
}

function priceOf(estimate: Estimate, varying: ReadonlySet<string> | null): LotPrice {
  const { figures, currency, stocks, shopping, leadTime } = estimate;
  const values = new Map(figures.map(({ id, value }) => [id, new Amount(value)]));
  const money = (id: string): DecimalText => moneyText(values.get(id) ?? new Amount(0), currency);
  const paints = shopping.filter(({ kind }) => kind === "paint");
  return {
    each: money("quote.each"),
    net: money("quote.net"),
    total: money("quote.total"),
    profit: money("price.profit"),
    direct: money("cost.direct"),
    once: varying && moneyText(costOnce(figures, varying), currency),
    sections: sectionsOf(estimate).map(({ id, label }) => ({ name: label, cost: money(id) })),
    sheets: stocks.flatMap(({ used }) => used).reduce((sum, { bought }) => sum + bought, 0),
    machineMinutes: (
      values.get("machine.billed") ??
      values.get("machine.minutes") ??
      new Amount(0)
    ).toString(),
    cans: paints.reduce((sum, { quantity }) => sum + Number(quantity), 0),
    handHours: figures
      .filter(({ id }) => /^work\..*\.hours$/.test(id))
      .reduce((sum, { value }) => sum.plus(value), new Amount(0))
      .toString(),
    workingDays: leadTime?.workingDays ?? null,
    sheetsUsed: shareOf(
      stocks.map(({ sheetCost, utilisation }) => ({ cost: sheetCost, used: utilisation })),
    ),
    paintUsed: shareOf(
      paints.map(({ amount, figures: ids }) => ({
        cost: amount,
        used: usedOf(ids.quantity, values),
      })),
    ),
  };
}

/** The inputs of the direct cost, in the order of the quote. */
function sectionsOf({ figures }: Estimate): Estimate["figures"] {
  const direct = figures.find(({ id }) => id === "cost.direct")?.origin;
  const inputs = direct?.kind === "derived" ? direct.inputs : [];
  return inputs.flatMap((input) => figures.filter(({ id }) => id === input));
}

/** Share of the cans bought that is used up. @param cans id of the figure. */
function usedOf(cans: string, values: ReadonlyMap<string, Amount>): number {
  const [bought, used] = [values.get(cans), values.get(cans.replace(/\.[^.]*$/, ".used"))];
  return bought === undefined || used === undefined || bought.isZero()
    ? 1
    : Math.min(1, used.div(bought).toNumber());
}

/** By cost; null where there is none. */
function shareOf(
  all: readonly { readonly cost: DecimalText; readonly used: number }[],
): number | null {
  const cost = all.reduce((sum, one) => sum + Number(one.cost), 0);
  return cost === 0 ? null : all.reduce((sum, one) => sum + Number(one.cost) * one.used, 0) / cost;
}
