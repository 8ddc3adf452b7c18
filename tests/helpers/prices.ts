import { Amount } from "../../src/money.ts";

/** A table with other prices, packs' prices and rates, of the first such column. */
export function withPrices(text: string, price: (was: Amount, row: number) => string): string {
  const [head = "", ...rows] = text.trim().split("\n");
  const at = head.split(",").findIndex((name) => /^(price|pack_price|per_hour|rate)$/.test(name));
  if (at < 0 || head.includes("minutes_low")) return text;
  const changed = rows.map((row, index) => {
    const cells = row.split(",");
    return cells.with(at, price(new Amount(cells[at] ?? NaN), index)).join(",");
  });
  return [head, ...changed].join("\n");
}
