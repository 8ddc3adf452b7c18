import { FORMULAS } from "../formulas.ts";
import type { FigureRecord } from "../estimate-data.ts";
import { lineWord, placeText, printable } from "../problem.ts";
import type { Place } from "../problem.ts";
import { rangesText } from "./ranges.ts";
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
  const from = placesText(source.from);
  return `${source.by}: ${source.what}${from === "" ? "" : `, from ${from}`}`;
}

/** `sheets.csv, lines 8-13; parts.csv, lines 2, 4; job.yaml, line 6`: each file once. */
function placesText(places: readonly Place[]): string {
  const files = [...new Set(places.map(({ file }) => file))];
  const texts = files.map((file) => {
    const lines = places.flatMap((place) => (place.file === file ? (place.line ?? []) : []));
    const known = rangesText(lines);
    return `${printable(file)}${known === "" ? "" : `, ${lineWord(file)}${/\D/.test(known) ? "s" : ""} ${known}`}`;
  });
  return texts.join("; ");
}
