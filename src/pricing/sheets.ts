import { counted, noun } from "../names.ts";
import { MM2_PER_M2, sizeText, stockName, trimmed } from "../units.ts";
import { Amount, moneyText } from "../money.ts";
import type { Place } from "../problem.ts";
import { regionArea } from "../geometry/ring.ts";
import type { SheetExtent } from "../geometry/sheet-area.ts";
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

/** `machine.acrylic-cast-3.minutes` and its like. */
export function machineId(stock: { material: string; thicknessMm: number }, what: string): string {
  return stockId(stock, what).replace(/^sheet\./, "machine.");
}

/** All that a judged nest depends on: sizes offered, the bed, parts and their drawings, pieces. */
export function nestedFrom(input: PricingInput, stock: PricedStock): readonly Place[] {
  const offered = [...input.tables.sheets, ...input.job.offcuts].filter(
    ({ material, thicknessMm }) => material === stock.material && thicknessMm === stock.thicknessMm,
  );
  const parts = partsOf(input, stock).flatMap(({ part, geometry, cutFrom, spare }) => [
    part.place,
    geometry.place,
    ...cutFrom,
    // A cell of the part's own row is told with the row.
    ...(spare === null || part.spare !== null ? [] : [spare.place]),
  ]);
  return distinct([
    ...stock.used.map(({ row }) => row.place),
    ...offered.map(({ place }) => place),
    ...input.job.sheets.map(({ place }) => place),
    input.machine.place,
    ...parts,
    input.job.piecesPlace,
  ]);
}

/** Where the job says that edges in common are cut once, or twice. */
export function commonCutsFrom({ job }: PricingInput): readonly Place[] {
  return job.commonCutsPlace === null ? [] : [job.commonCutsPlace];
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
  addLeftover(ledger, input, stock);
}

/** What is left in one piece, and the share of the sheet's price that goes with its area: nothing is charged by it. */
function addLeftover({ sheet }: Ledger, input: PricingInput, stock: PricedStock): void {
  const { leftover, nest, used } = stock;
  const from = nest.sheets[leftover?.onSheet ?? 0];
  const its = used.find(({ row }) => row.id === from?.sheet);
  if (leftover === null || from === undefined || its === undefined) return;
  const id = (what: string): string => stockId(stock, `leftover.${what}`);
  const name = `${stockName(stock)}, largest rectangle left`;
  const size = sizeText(leftover.widthMm, leftover.heightMm);
  const area = sheet.given(id("area"), name, "m2", m2(leftover), {
    kind: "computed",
    by: "nest",
    what: `${size} free on sheet ${leftover.onSheet + 1}, less margin and gap`,
    from: nestedFrom(input, stock),
  });
  const whole = sheet.given(
    id("sheet"),
    `${stockName(stock)}, sheet it is left of`,
    "m2",
    m2(from),
    {
      kind: "measured",
      place: its.row.place,
      what: `${from.outline === undefined ? "" : "outline within "}${sizeText(from.widthMm, from.heightMm)} of ${its.row.id}`,
    },
  );
  const share = sheet.derived(id("share"), `${name}, share of its sheet`, "ratio", "quotient", [
    area,
    whole,
  ]);
  sheet.derived(id("worth"), `${name}, worth by area`, "currency", "product", [
    share,
    usedId(stock, its.row.id, "price"),
  ]);
}

/** Of a rectangle to the last digit. */
function m2({ outline, widthMm, heightMm }: SheetExtent): Amount {
  const mm2 = outline ? new Amount(regionArea(outline)) : new Amount(widthMm).times(heightMm);
  return mm2.div(MM2_PER_M2);
}

/** The size's id comes into the figures' where there are several. */
function usedId(stock: PricedStock, size: string, what: string): string {
  return stockId(stock, stock.used.length > 1 ? `${slug(size)}.${what}` : what);
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
  const cost = sheet.derived(id("cost"), label, "currency", "product", [counts, price]);
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

function partsOf(input: PricingInput, stock: PricedStock): PricingInput["parts"] {
  const placed = new Set(nestedNames(stock));
  return input.parts.filter(({ part }) => placed.has(part.name));
}

function nestedNames({ nest }: PricedStock): readonly string[] {
  return nest.sheets.flatMap(({ placements }) => placements.map(({ part }) => part));
}
