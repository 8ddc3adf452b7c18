import type { Estimate, FigureRecord } from "../estimate-data.ts";
import { Amount, moneyText } from "../money.ts";
import { clockText, lengthText, trimmed } from "../units.ts";
import { runningSeconds } from "./makers-sheet.ts";
import { columns, wrapped } from "./wrap.ts";

const WIDTH = 80;

/** What a maker wants to see at a glance: sheets, machine, buying, hours, price, cautions. */
export function summary(estimate: Estimate): string {
  const { title, customer, pieces, pieceName } = estimate;
  const heading = wrapped(`${title}${customer === "" ? "" : `, for ${customer}`}`, WIDTH);
  const blocks = [
    [...heading, `${pieces} x ${pieceName}`],
    sheetBlock(estimate),
    machineBlock(estimate),
    buyingBlock(estimate),
    priceBlock(estimate),
    cautionBlock(estimate),
  ];
  return `${blocks
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join("\n"))
    .join("\n\n")}\n`;
}

function sheetBlock({ stocks, currency }: Estimate): readonly string[] {
  const rows = stocks.map((stock) => [
    `  ${stock.material} ${lengthText(stock.thicknessMm)}`,
    `${stock.form === "roll" ? rollLength(stock.sheets) : `${stock.sheets.length} x`} ${stock.sheet}`,
    `${trimmed(stock.utilisation * 100, 1)} % used`,
    clockText(runningSeconds(stock)),
    moneyText(new Amount(stock.sheetCost), currency),
  ]);
  return [`Sheets (running time, ${currency.code})`, ...columns(rows, [2, 3, 4])];
}

function rollLength(sheets: Estimate["stocks"][number]["sheets"]): string {
  return `${trimmed(sheets.reduce((sum, { heightMm }) => sum + heightMm, 0) / 1000, 2)} m of`;
}

function machineBlock(estimate: Estimate): readonly string[] {
  const figure = finder(estimate);
  const minutes = figure("machine.billed") ?? figure("machine.minutes");
  const hours = estimate.figures.filter(({ id }) => /^work\..*\.hours$/.test(id));
  const work = hours.reduce((sum, { value }) => sum.plus(value), new Amount(0));
  return [
    `Machine     ${trimmed(Number(minutes?.value ?? 0), 1)} min on ${estimate.machine.description}`,
    `Hand work   ${trimmed(work.toNumber(), 1)} h`,
  ];
}

function buyingBlock({ shopping, currency }: Estimate): readonly string[] {
  const bought = shopping.filter(({ kind }) => kind !== "sheet");
  if (bought.length === 0) return [];
  const rows = bought.map(({ description, quantity, unit, amount }) => [
    `  ${description}`,
    quantity,
    unit,
    amount,
  ]);
  return [`Also to buy (${currency.code})`, ...columns(rows, [1, 3])];
}

function priceBlock(estimate: Estimate): readonly string[] {
  const figure = finder(estimate);
  const costs = estimate.figures.filter(({ id }) => id.startsWith("cost.") && !SUMS.includes(id));
  const sums = PRICE_STEPS.flatMap((id) => figure(id) ?? []);
  const rows = [...costs, ...sums].map((one) => [
    `${SUMS.includes(one.id) || one.id.startsWith("quote.") ? "" : "  "}${capital(one.label)}`,
    moneyText(new Amount(one.value), estimate.currency),
    `[${one.id}]`,
  ]);
  return [`Price (${estimate.currency.code})`, ...columns(rows, [1]).map((line) => `  ${line}`)];
}

/** Sums of what stands above them. */
const SUMS = [
  "cost.direct",
  "cost.overhead",
  "cost.with-overhead",
  "cost.contingency",
  "cost.total",
];
const PRICE_STEPS = [
  "cost.direct",
  "cost.overhead",
  "cost.contingency",
  "cost.total",
  "price.markup",
  "quote.net",
  "quote.tax",
  "quote.total",
  "quote.each",
];

function cautionBlock({ cautions, warnings }: Estimate): readonly string[] {
  const lines = cautions.flatMap(({ topic, text }) => wrapped(`${topic}: ${text}`, WIDTH, "  - "));
  const more = warnings.length === 0 ? [] : [`${warnings.length} warnings, see above.`];
  return [...(lines.length === 0 ? [] : ["Cautions"]), ...lines, ...more];
}

function finder({ figures }: Estimate): (id: string) => FigureRecord | undefined {
  const byId = new Map(figures.map((figure) => [figure.id, figure]));
  return (id) => byId.get(id);
}

function capital(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}
