import { FORMULAS } from "../figure.ts";
import type { FigureRecord } from "../estimate-data.ts";
import { placeText } from "../problem.ts";
import { trimmed } from "../units.ts";

/** Figures in words: their values, formulas and sources. */

/** Digits that a person reads; files carry all of them. */
const SHOWN_DECIMALS = 4;

/** `12.5 min`, `84 EUR`, `1.00 EUR/min`. */
export function valueText(
  { value, unit }: Pick<FigureRecord, "value" | "unit">,
  currency: string,
): string {
  return `${trimmed(Number(value), SHOWN_DECIMALS)} ${unitText(unit, currency)}`.trim();
}

export function unitText(unit: FigureRecord["unit"], currency: string): string {
  const named = unit.replace("currency", currency);
  return { percent: "%", ratio: "" }[named] ?? named;
}

/** `sum of a, b`, with the ids of the inputs; empty for a given figure. */
export function formulaText({ origin }: FigureRecord): string {
  if (origin.kind === "given") return "";
  const text = FORMULAS[origin.formula].text.replace("{*}", origin.inputs.join(", "));
  return origin.inputs.reduce((done, input, index) => done.replaceAll(`{${index}}`, input), text);
}

/** `price-tables/sheets.csv, line 3, price (trade list)`; empty for a derived figure. */
export function sourceText({ origin }: FigureRecord): string {
  if (origin.kind === "derived") return "";
  const { source } = origin;
  if (source.kind === "cell")
    return `${placeText(source.place)}${source.cited ? ` (${source.cited})` : ""}`;
  if (source.kind === "measured") return `${placeText(source.place)}: ${source.what}`;
  const from = [...new Set(source.from.map(placeText))].join("; ");
  return `${source.by}: ${source.what}${from === "" ? "" : `, from ${from}`}`;
}
