import { DECIMAL_POINT, writeCsv } from "../csv.ts";
import type { CsvCell } from "../csv.ts";
import type { Estimate, FigureRecord } from "../estimate-data.ts";
import { Amount } from "../money.ts";
import type { Currency } from "../money.ts";
import { formulaText, sourceText, unitText } from "./figure-text.ts";

/** The maker's own view: every figure with its formula and its source, inputs before what uses them. */
export function costingCsv({ figures, currency }: Estimate, style = DECIMAL_POINT): string {
  const rows = figures.map((figure) => costingCells(figure, currency));
  return writeCsv(COSTING_COLUMNS, rows, style);
}

/** The cells of one figure, in the order of the columns; low and high where its row has them. */
export function costingCells(figure: FigureRecord, currency: Currency): readonly CsvCell[] {
  const { id, label, value, unit, origin, spread } = figure;
  return [
    id,
    label,
    { decimal: origin.kind === "derived" ? shownDecimal(value) : value },
    unitText(unit, currency.code),
    origin.kind,
    formulaText(figure),
    sourceText(figure),
    origin.kind === "derived" ? origin.because : "",
    ...(spread ? [{ decimal: spread.low }, { decimal: spread.high }] : ["", ""]),
  ];
}

/**
 * A third has no end: of a derived value as many digits as a spreadsheet keeps, which is enough to
 * work the next one out to the coin. What was read stands as it was read.
 */
function shownDecimal(value: string): string {
  return new Amount(value).toSignificantDigits(SPREADSHEET_DIGITS).toFixed();
}

const SPREADSHEET_DIGITS = 15;

export const COSTING_COLUMNS = [
  "figure",
  "label",
  "value",
  "unit",
  "origin",
  "formula",
  "source",
  "note",
  "low",
  "high",
];
