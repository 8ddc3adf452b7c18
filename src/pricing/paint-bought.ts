import type { PaintRow } from "../job/types.ts";
import { moneyText } from "../money.ts";
import { noun } from "../names.ts";
import { trimmed } from "../units.ts";
import { cell, rowText, slug } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { finishBasis, workWords } from "./quote-words.ts";
import type { PricingInput } from "./types.ts";

/** Whole cans, pads and rolls for what is used of them: a figure `used` is there already. */
export function addBought(
  ledger: Ledger,
  input: PricingInput,
  row: PaintRow,
  useText: string,
): void {
  const { sheet, costs, shopping } = ledger;
  const { description, soldAs, price } = row;
  const id = (what: string): string => paintId(row, what);
  const because = `${soldAs}s are sold whole`;
  sheet.derived(
    id("cans"),
    `${description}, ${soldAs}s to buy`,
    "pcs",
    "rounded up",
    [id("used")],
    because,
  );
  sheet.given(id("price"), `${description}, a ${soldAs}`, "currency", price, cell(row, "price"));
  const cost = sheet.derived(id("cost"), description, "currency", "product", [
    id("cans"),
    id("price"),
  ]);
  costs.push({
    section: "Finishing",
    of: "materials",
    description: workWords("Finishing", input),
    basis: finishBasis(input),
    cost,
    each: null,
  });
  const cans = sheet.value(id("cans"));
  const content = row.contentMl === null ? "" : ` of ${trimmed(row.contentMl, 1)} ml`;
  shopping.push({
    kind: row.kind === "paint" ? "paint" : "consumable",
    item: row.id,
    description,
    quantity: cans.toString(),
    unit: noun(cans.toNumber(), soldAs) + content,
    unitPrice: moneyText(price, input.currency),
    amount: moneyText(sheet.value(cost), input.currency),
    need: `${sheet.value(id("used")).toFixed(2)} ${soldAs}s used: ${useText}`,
    source: rowText(row.place),
    figures: { quantity: id("cans"), unitPrice: id("price"), amount: cost },
  });
}

export function paintId(row: PaintRow, what: string): string {
  return `paint.${slug(row.id)}.${what}`;
}
