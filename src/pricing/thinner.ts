import type { PaintRow } from "../job/types.ts";
import { cell } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { addBought, paintId } from "./paint-bought.ts";
import type { PricingInput } from "./types.ts";

/** What is poured into the paints that were used. */
export function addThinner(
  ledger: Ledger,
  input: PricingInput,
  thinner: PaintRow,
  used: readonly PaintRow[],
): void {
  const { sheet } = ledger;
  const thinned = used.filter((row) => row.thinner === thinner.id);
  if (thinned.length === 0) return;
  const id = (what: string): string => paintId(thinner, what);
  const litres = thinned.map((row) => {
    const of = (what: string): string => paintId(row, what);
    const label = `${row.description}, ${thinner.description} added`;
    sheet.derived(of("undiluted"), `${row.description}, used`, "l", "product", [
      of("used"),
      of("litres"),
    ]);
    return sheet.derived(of("thinner"), label, "l", "percentage", [
      of("undiluted"),
      of("thinner-share"),
    ]);
  });
  const { description, soldAs } = thinner;
  sheet.derived(id("need"), `${description}, needed`, "l", "sum", litres);
  sheet.given(
    id("content"),
    `${description}, content`,
    "ml",
    thinner.contentMl ?? 0,
    cell(thinner, "content_ml"),
  );
  sheet.derived(id("litres"), `${description}, content`, "l", "ml to l", [id("content")]);
  sheet.derived(id("used"), `${description}, ${soldAs}s used`, "pcs", "quotient", [
    id("need"),
    id("litres"),
  ]);
  addBought(ledger, input, thinner, `to thin ${thinned.map((row) => row.description).join(", ")}`);
}
