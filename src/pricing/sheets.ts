import { counted, noun } from "../names.ts";
import { sizeText, stockName, trimmed } from "../units.ts";
import { moneyText } from "../money.ts";
import type { Place } from "../problem.ts";
import { cell, distinct, rowText, slug } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { copiesOf } from "./quote-words.ts";
import type { PricedSheets, PricedStock, PricingInput } from "./types.ts";

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
  const offered = [...input.tables.sheets, ...input.job.offcuts].filter(
    ({ material, thicknessMm }) => material === stock.material && thicknessMm === stock.thicknessMm,
  );
  const parts = partsOf(input, stock).flatMap(({ part, geometry, cutFrom }) => [
    part.place,
    geometry.place,
    ...cutFrom,
  ]);
  return distinct([
    ...stock.used.map(({ row }) => row.place),
    ...offered.map(({ place }) => place),
    input.machine.place,
    ...parts,
    input.job.piecesPlace,
  ]);
}

function addStock(ledger: Ledger, input: PricingInput, stock: PricedStock): void {
  const costs = stock.used.map((used) => addUsed(ledger, input, stock, used));
  const cost = stockId(stock, "cost");
  if (stock.used.length > 1)
    ledger.sheet.derived(cost, `${stockName(stock)}, cost of all sheets`, "currency", "sum", costs);
  ledger.costs.push({
    section: "Materials",
    description: stockName(stock),
    basis: counted(copiesOf(partsOf(input, stock), input), "part"),
    cost,
    each: null,
  });
}

/** One size: its id comes into the figures' where there are several. */
function addUsed(
  { sheet, shopping }: Ledger,
  input: PricingInput,
  stock: PricedStock,
  { row, offcut, sheets, utilisation }: PricedSheets,
): string {
  const several = stock.used.length > 1;
  const name = several ? `${stockName(stock)}, ${row.id}` : stockName(stock);
  const id = (what: string): string => stockId(stock, several ? `${slug(row.id)}.${what}` : what);
  const roll = row.form === "roll";
  const count = roll
    ? sheets.reduce((sum, { heightMm }) => sum + heightMm, 0) / 1000
    : sheets.length;
  const counts = sheet.given(
    id("count"),
    roll ? `${name}, length of roll` : `${name}, ${offcut ? "offcuts" : "sheets"}`,
    roll ? "m" : "pcs",
    count,
    {
      kind: "computed",
      by: "nest",
      what: `${roll ? "length of roll" : offcut ? "offcuts" : "sheets"} "${row.id}" in the judged nest`,
      from: nestedFrom(input, stock),
    },
  );
  const price = sheet.given(
    id("price"),
    `${name}, price of ${roll ? "a metre" : offcut ? "an offcut" : "a sheet"}`,
    "currency",
    row.price,
    cell(row, "price"),
  );
  const label = `${name}, cost of ${roll ? "roll" : offcut ? "offcuts" : "sheets"}`;
  const cost = sheet.derived(id("cost"), label, "currency", "product", [counts, price]);
  // What lies on the shelf need not be bought.
  if (!offcut)
    shopping.push({
      kind: "sheet",
      item: row.id,
      description: `${stockName(stock)}, ${sizeText(row.widthMm, row.heightMm)}`,
      quantity: sheet.value(counts).toString(),
      unit: roll ? "m" : noun(count, "sheet"),
      unitPrice: moneyText(row.price, input.currency),
      amount: moneyText(sheet.value(cost), input.currency),
      need: `parts cover ${trimmed(utilisation * 100, 1)} % of it`,
      source: rowText(row.place),
    });
  return cost;
}

function partsOf(input: PricingInput, stock: PricedStock): PricingInput["parts"] {
  const placed = new Set(nestedNames(stock));
  return input.parts.filter(({ part }) => placed.has(part.name));
}

function nestedNames({ nest }: PricedStock): readonly string[] {
  return nest.sheets.flatMap(({ placements }) => placements.map(({ part }) => part));
}
