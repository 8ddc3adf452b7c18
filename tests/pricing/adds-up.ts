import type { Estimate, FigureRecord, QuoteLine } from "../../src/estimate-data.ts";
import { recompute } from "../../src/figure.ts";
import { Amount } from "../../src/money.ts";
import { figureOf } from "../../src/pricing/figure-record.ts";

/** Whether money adds up, reckoned in whole minor units apart from the program. */

/** What is wrong in an estimate by itself; nothing where all adds up. */
export function sumFaults(estimate: Estimate): readonly string[] {
  const { quote, currency, terms } = estimate;
  const minor = (decimal: string): bigint => scaled(decimal, currency.minorDigits);
  const total = (kind: QuoteLine["kind"]): bigint =>
    quote.reduce((sum, row) => (row.kind === kind ? sum + minor(row.amount) : sum), 0n);
  const stages = terms.stages.reduce((sum, { amount }) => sum + minor(amount), 0n);
  return [
    ...unequal("lines and net total", total("line"), total("subtotal")),
    ...unequal("net total and tax", total("subtotal") + total("tax"), total("total")),
    ...(terms.stages.length === 0 ? [] : unequal("stages", stages, total("total"))),
    ...quote.flatMap((row) =>
      row.each === null
        ? []
        : unequal(row.description, BigInt(row.quantity) * minor(row.unitPrice), minor(row.amount)),
    ),
    ...taxFaults(estimate, total("subtotal"), minor),
  ];
}

/** Each tax is its rate of its base, rounded once, and the bases are all of the net total. */
function taxFaults(
  { quote, figures }: Estimate,
  net: bigint,
  minor: (decimal: string) => bigint,
): readonly string[] {
  const byId = new Map(figures.map((figure) => [figure.id, figure]));
  const inputsOf = (id: string): readonly FigureRecord[] => {
    const origin = byId.get(id)?.origin;
    return origin?.kind === "derived" ? origin.inputs.flatMap((one) => byId.get(one) ?? []) : [];
  };
  let taxed = 0n;
  const faults = quote.flatMap(({ kind, figure, amount, description }) => {
    if (kind !== "tax") return [];
    const [exact] = inputsOf(figure);
    const [base, rate] = inputsOf(exact?.id ?? "");
    if (base === undefined || rate === undefined) return [`${description}: no base, no rate`];
    taxed += minor(base.value);
    const ours = rounded(minor(base.value) * scaled(rate.value, 6), 100_000_000n);
    return unequal(description, ours, minor(amount));
  });
  return [...faults, ...unequal("taxed and net total", taxed, net)];
}

/** Halves away from zero. */
function rounded(top: bigint, bottom: bigint): bigint {
  const [sign, size] = top < 0n ? [-1n, -top] : [1n, top];
  return (sign * (2n * size + bottom)) / (2n * bottom);
}

/** `12.5` at 2 digits is 1250. */
function scaled(decimal: string, digits: number): bigint {
  const [whole = "", decimals = ""] = decimal.split(".");
  if (decimals.length > digits) throw new RangeError(`${decimal} has more than ${digits} decimals`);
  return BigInt(`${whole}${decimals.padEnd(digits, "0")}`);
}

function unequal(what: string, ours: bigint, theirs: bigint): readonly string[] {
  return ours === theirs ? [] : [`${what}: ${ours} is not ${theirs}`];
}

/** An estimate with one given figure changed, and every derived one left as it was. */
export interface Changed {
  readonly id: string;
  readonly value: string;
  readonly estimate: Estimate;
}

/**
 * A rate, price or rule of it by lot, a quarter more and one.
 * @param lot from 0 to below 1.
 */
export function withOneChanged(estimate: Estimate, lot: number): Changed {
  const rates = estimate.figures.filter(
    ({ id, origin }) => origin.kind === "given" && RATE.test(id) && id !== "money.unit",
  );
  const { id, value: was } = rates[Math.floor(lot * rates.length)]!;
  const value = new Amount(was).times("1.25").plus(1).toString();
  const figures = estimate.figures.map((one) => (one.id === id ? { ...one, value } : one));
  return { id, value, estimate: { ...estimate, figures } };
}

const RATE = /^rule\.|^rate\.|\.(price|rate|minutes|loss|spare|cost|setup)$/;

/** Sheets of a workbook as another program shows them, rows of texts. */
export type Sheets = Readonly<Record<string, readonly (readonly string[])[]>>;

/** In what a recalculated workbook differs from the estimate, the amounts of the quote to the last minor unit. */
export function workbookFaults(
  estimate: Estimate,
  sheets: Sheets,
  changed: Changed | null = null,
): readonly string[] {
  const given = new Map(changed === null ? [] : [[changed.id, new Amount(changed.value)]]);
  const values = recompute(estimate.figures.map(figureOf), given);
  const valueOf = (id: string): Amount => values.get(id) ?? new Amount(NaN);
  const [, ...figures] = sheets["Figures"] ?? [];
  const [, ...quote] = sheets["Quote"] ?? [];
  const digits = estimate.currency.minorDigits;
  return [
    ...estimate.figures.flatMap(({ id }, index) => {
      const [name, , shown = ""] = figures[index] ?? [];
      return name === id && isNear(Number(shown), valueOf(id).toNumber())
        ? []
        : [`${name} is ${shown}, not ${id} ${valueOf(id).toString()}`];
    }),
    ...[...estimate.quote, ...estimate.terms.stages].flatMap(({ figure }, index) => {
      const shown = Number(quote[index]?.[AMOUNT] ?? "").toFixed(digits);
      const ours = valueOf(figure).toFixed(digits);
      return shown === ours ? [] : [`${figure} is ${shown} on the quote, not ${ours}`];
    }),
  ];
}

/** Column of the quote's amounts, as in quote.csv. */
const AMOUNT = 6;

/** What doubles can not tell apart after some hundred steps. */
function isNear(shown: number, ours: number): boolean {
  return Math.abs(shown - ours) <= 1e-9 * Math.max(1, Math.abs(ours));
}
