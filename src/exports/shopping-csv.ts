import { DECIMAL_POINT, writeCsv } from "../csv.ts";
import type { Estimate } from "../estimate-data.ts";

/** What to buy before making: whole sheets, cans, packs, bars and bought-in items. */
export function shoppingCsv({ shopping, currency }: Estimate, style = DECIMAL_POINT): string {
  const rows = shopping.map((row) => [
    row.kind,
    row.item,
    row.description,
    { decimal: row.quantity },
    row.unit,
    { decimal: row.unitPrice },
    { decimal: row.amount },
    currency.code,
    row.need,
    row.source,
    "",
  ]);
  return writeCsv(SHOPPING_COLUMNS, rows, style);
}

export const SHOPPING_COLUMNS = [
  "kind",
  "item",
  "description",
  "quantity",
  "unit",
  "unit_price",
  "amount",
  "currency",
  "need",
  "source",
  /** Left empty, to tick off. */
  "bought",
];
