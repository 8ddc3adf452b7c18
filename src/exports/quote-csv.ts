import { DECIMAL_POINT, writeCsv } from "../csv.ts";
import type { Estimate } from "../estimate-data.ts";

/** The customer's quote: a sum over the rows of kind `line` is the net total to the cent. */
export function quoteCsv({ quote, currency }: Estimate, style = DECIMAL_POINT): string {
  const rows = quote.map((row) => [
    row.section,
    row.line,
    row.description,
    { decimal: row.quantity },
    row.unit,
    { decimal: row.unitPrice },
    { decimal: row.amount },
    currency.code,
    row.kind,
    row.basis,
  ]);
  return writeCsv(QUOTE_COLUMNS, rows, style);
}

export const QUOTE_COLUMNS = [
  "section",
  "line",
  "description",
  "quantity",
  "unit",
  "unit_price",
  "amount",
  "currency",
  "kind",
  "basis",
];
