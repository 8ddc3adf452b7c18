import { DECIMAL_POINT, writeCsv } from "../csv.ts";
import type { Estimate, FigureRecord } from "../estimate-data.ts";
import type { Currency } from "../money.ts";
import { formulaText, sourceText, unitText } from "./figure-text.ts";

/** The maker's own view: every figure with its formula and its source, inputs before what uses them. */
export function costingCsv({ figures, currency }: Estimate, style = DECIMAL_POINT): string {
  const rows = figures.map((figure) =>
    costingWords(figure, currency).map((text, column) =>
      column === VALUE ? { decimal: text } : text,
    ),
  );
  return writeCsv(COSTING_COLUMNS, rows, style);
}

/** The cells of one figure, in the order of the columns. */
export function costingWords(figure: FigureRecord, currency: Currency): readonly string[] {
  return [
    figure.id,
    figure.label,
    figure.value,
    unitText(figure.unit, currency.code),
    figure.origin.kind,
    formulaText(figure),
    sourceText(figure),
    figure.origin.kind === "derived" ? figure.origin.because : "",
  ];
}

/** Index of the column `value`. */
const VALUE = 2;

export const COSTING_COLUMNS = [
  "figure",
  "label",
  "value",
  "unit",
  "origin",
  "formula",
  "source",
  "note",
];
