import { counted, noun } from "../names.ts";
import { sizeText, stockName, trimmed } from "../units.ts";
import { moneyText } from "../money.ts";
import { cell, rowText } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { addLeftover } from "./sheet-leftover.ts";
import { addSheetCharge } from "./sheet-charge.ts";
import { nestedFrom, partsOf, stockId, usedId } from "./stock-figures.ts";
import { copiesOf } from "./quote-words.ts";
import type { PricedSheets, PricedStock, PricingInput } from "./types.ts";

/** Whole sheets, or metres of roll, at the table's price. */
export function addSheets(ledger: Ledger, input: PricingInput): void {
  for (const stock of input.stocks) addStock(ledger, input, stock);
}

function addStock(ledger: Ledger, input: PricingInput, stock: PricedStock): void {
  const costs = stock.used.map((used) => addUsed(ledger, input, stock, used));
  const cost = stockId(stock, "cost");
  if (stock.used.length > 1)
    ledger.sheet.derived(cost, `${stockName(stock)}, cost of all sheets`, "currency", "sum", costs);
  const worth = addLeftover(ledger, input, stock);
  ledger.costs.push({
    section: "Materials",
    of: "materials",
    description: stockName(stock),
    basis: counted(copiesOf(partsOf(input, stock), input), "part"),
    cost: addSheetCharge(ledger, input, stock, { cost, worth }),
    each: null,
  });
}

function addUsed(
  ledger: Ledger,
  input: PricingInput,
  stock: PricedStock,
  used: PricedSheets,
): string {
  const { sheet, shopping } = ledger;
  const { row, offcut, utilisation } = used;
  const name = nameOf(stock, used);
  const id = (what: string): string => usedId(stock, row.id, what);
  const roll = row.form === "roll";
  const counts = addCount(ledger, input, stock, used);
  const price = sheet.given(
    id("price"),
    `${name}, price of ${roll ? "a metre" : offcut ? "an offcut" : "a sheet"}`,
    "currency",
    row.price,
    cell(row, "price"),
  );
  const label = `${name}, cost of ${roll ? "roll" : offcut ? "offcuts" : "sheets"}`;
  const inputs = [counts, price];
  const cost = sheet.derived(id("cost"), label, "currency", "product", inputs, "whole, as bought");
  // What lies on the shelf need not be bought.
  if (!offcut)
    shopping.push({
      kind: "sheet",
      item: row.id,
      description: `${stockName(stock)}, ${sizeText(row.widthMm, row.heightMm)}`,
      quantity: sheet.value(counts).toString(),
      unit: roll ? "m" : noun(sheet.value(counts).toNumber(), "sheet"),
      unitPrice: moneyText(row.price, input.currency),
      amount: moneyText(sheet.value(cost), input.currency),
      need: `parts cover ${trimmed(utilisation * 100, 1)} % of ${sawnText(used)}`,
      source: rowText(row.place),
      figures: { quantity: counts, unitPrice: price, amount: cost },
    });
  return cost;
}

function nameOf(stock: PricedStock, { row }: PricedSheets): string {
  return stock.used.length > 1 ? `${stockName(stock)}, ${row.id}` : stockName(stock);
}

/** What parts cover, and what to ask the shop for. */
function sawnText({ panels }: PricedSheets): string {
  if (panels === null) return "it";
  const { across, along, widthMm, heightMm } = panels;
  return `the panels; have each sheet sawn into ${across} x ${along} of ${sizeText(widthMm, heightMm)}`;
}

/** Sheets to buy, or metres of roll. */
function addCount(
  { sheet }: Ledger,
  input: PricingInput,
  stock: PricedStock,
  used: PricedSheets,
): string {
  const { row, offcut, sheets, panels } = used;
  const name = nameOf(stock, used);
  const id = (what: string): string => usedId(stock, row.id, what);
  const roll = row.form === "roll";
  const kind =
    panels === null ? (roll ? "length of roll" : offcut ? "offcuts" : "sheets") : "panels";
  const length = sheets.reduce((sum, { heightMm }) => sum + heightMm, 0) / 1000;
  const taken = sheet.given(
    id(panels === null ? "count" : "panels"),
    `${name}, ${kind}`,
    roll ? "m" : "pcs",
    roll ? length : sheets.length,
    {
      kind: "computed",
      by: "nest",
      what: `${kind} "${row.id}" in the judged nest`,
      from: nestedFrom(input, stock),
    },
  );
  if (panels === null) return taken;
  const { across, along, widthMm, heightMm } = panels;
  const each = sheet.given(id("panels-each"), `${name}, panels of a sheet`, "pcs", across * along, {
    kind: "computed",
    by: "panels",
    what: `${across} x ${along} of ${sizeText(widthMm, heightMm)} out of ${sizeText(row.widthMm, row.heightMm)}, for the bed of ${input.machine.id}`,
    from: [row.place, input.machine.place],
  });
  return sheet.derived(id("count"), `${name}, sheets`, "pcs", "whole units", [taken, each]);
}
