import { writeCsv } from "../csv.ts";
import type { Estimate } from "../estimate-data.ts";

/** What to buy before making: whole sheets, cans, packs, bars and bought-in items. */
export function shoppingCsv({ shopping, currency }: Estimate): string {
  const rows = shopping.map((row) => [
    row.kind,
    row.item,
    row.description,
    row.quantity,
    row.unit,
    row.unitPrice,
    row.amount,
    currency.code,
    row.need,
    row.source,
  ]);
  return writeCsv(SHOPPING_COLUMNS, rows);
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
];
