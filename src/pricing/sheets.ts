import { counted, noun } from "../names.ts";
import { sizeText, stockName, trimmed } from "../units.ts";
import { moneyText } from "../money.ts";
import type { Place } from "../problem.ts";
import { cell, distinct, rowText, slug } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { copiesOf } from "./quote-words.ts";
import type { PricedStock, PricingInput } from "./types.ts";

/** Whole sheets, or metres of roll, at the table's price. */
export function addSheets(ledger: Ledger, input: PricingInput): void {
  for (const stock of input.stocks) addStock(ledger, input, stock);
}

/** `sheet.acrylic-cast-3.count` and its like. */
export function stockId(stock: { material: string; thicknessMm: number }, what: string): string {
  return `sheet.${slug(`${stock.material} ${stock.thicknessMm}`)}.${what}`;
}

/** All that a judged nest depends on: sizes offered, the bed, parts and their drawings, pieces. */
export function nestedFrom(input: PricingInput, stock: PricedStock): readonly Place[] {
  const offered = input.tables.sheets.filter(
    ({ material, thicknessMm }) => material === stock.material && thicknessMm === stock.thicknessMm,
  );
  const parts = partsOf(input, stock).flatMap(({ part, geometry, cutFrom }) => [
    part.place,
    geometry.place,
    ...cutFrom,
  ]);
  return distinct([
    stock.row.place,
    ...offered.map(({ place }) => place),
    input.machine.place,
    ...parts,
    input.job.piecesPlace,
  ]);
}

function addStock(
  { sheet, costs, shopping }: Ledger,
  input: PricingInput,
  stock: PricedStock,
): void {
  const { row, nest } = stock;
  const name = stockName(stock);
  const roll = row.form === "roll";
  const ids = {
    count: stockId(stock, "count"),
    price: stockId(stock, "price"),
    cost: stockId(stock, "cost"),
  };
  const used = roll
    ? nest.sheets.reduce((sum, { heightMm }) => sum + heightMm, 0) / 1000
    : nest.sheets.length;
  const what = `${roll ? "length of roll" : "sheets"} "${row.id}" in the judged nest`;
  const label = roll ? `${name}, length of roll` : `${name}, sheets`;
  sheet.given(ids.count, label, roll ? "m" : "pcs", used, {
    kind: "computed",
    by: "nest",
    what,
    from: nestedFrom(input, stock),
  });
  sheet.given(
    ids.price,
    `${name}, price of a ${roll ? "metre" : "sheet"}`,
    "currency",
    row.price,
    cell(row, "price"),
  );
  sheet.derived(ids.cost, `${name}, cost of ${roll ? "roll" : "sheets"}`, "currency", "product", [
    ids.count,
    ids.price,
  ]);
  costs.push({
    section: "Materials",
    description: name,
    basis: counted(copiesOf(partsOf(input, stock), input), "part"),
    cost: ids.cost,
    each: null,
  });
  shopping.push({
    kind: "sheet",
    item: row.id,
    description: `${name}, ${sizeText(row.widthMm, row.heightMm)}`,
    quantity: sheet.value(ids.count).toString(),
    unit: roll ? "m" : noun(used, "sheet"),
    unitPrice: moneyText(row.price, input.currency),
    amount: moneyText(sheet.value(ids.cost), input.currency),
    need: `parts cover ${trimmed(nest.utilisation * 100, 1)} % of it`,
    source: rowText(row.place),
  });
}

function partsOf(input: PricingInput, stock: PricedStock): PricingInput["parts"] {
  const placed = new Set(nestedNames(stock));
  return input.parts.filter(({ part }) => placed.has(part.name));
}

function nestedNames({ nest }: PricedStock): readonly string[] {
  return nest.sheets.flatMap(({ placements }) => placements.map(({ part }) => part));
}
