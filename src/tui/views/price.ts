import type { Estimate, FigureRecord, QuoteLine } from "../../estimate-data.ts";
import { Amount, moneyText } from "../../money.ts";
import { columns, plain, windowStart } from "../line.ts";
import type { Line } from "../line.ts";
import { priceRows } from "../rows.ts";
import type { PriceRow } from "../rows.ts";
import type { State } from "../state.ts";

/** The quote as the customer gets it; below it the costs that lead to the price. */

export function pricePanel(state: State, cells: number, rows: number): readonly Line[] {
  const { estimate, cursors } = state;
  if (!estimate) return [];
  const told = priceRows(estimate).map((row, index) => ({
    index,
    line: priceLine(estimate, row, cells, index === cursors.price),
  }));
  const costs = told.findIndex(({ index }) => index === estimate.quote.length);
  const headed = [
    { index: -1, line: heading(cells, "for the customer", estimate.currency.code) },
    ...told.slice(0, costs < 0 ? told.length : costs),
    { index: -1, line: plain("") },
    { index: -1, line: heading(cells, "from cost to price, for you", estimate.currency.code) },
    ...(costs < 0 ? [] : told.slice(costs)),
  ];
  const at = headed.findIndex(({ index }) => index === cursors.price);
  const lines = headed.map(({ line }) => line);
  return inView(lines, at, rows);
}

/** As many lines as there is room for, the cursor among them, and how many there are above and below. */
function inView(lines: readonly Line[], at: number, rows: number): readonly Line[] {
  if (lines.length <= rows) return lines;
  const shown = Math.max(1, rows - 1);
  const start = windowStart(lines.length, at, shown);
  const below = lines.length - start - shown;
  const more = [
    ...(start > 0 ? [`↑ ${start} more`] : []),
    ...(below > 0 ? [`↓ ${below} more`] : []),
  ];
  return [...lines.slice(start, start + shown), plain(`  ${more.join("  ")}`, "muted")];
}

function heading(cells: number, what: string, currency: string): Line {
  return plain(`  ${row(cells, what, "", currency)}`, "muted");
}

function priceLine(estimate: Estimate, given: PriceRow, cells: number, chosen: boolean): Line {
  const text = textOf(estimate, given, cells);
  if (chosen) return [{ text: "▸ " }, { text, tone: "selected" }];
  const kind = given.kind === "quote" ? given.line.kind : "line";
  const tone = kind === "total" ? "money" : kind === "line" ? null : "title";
  return [{ text: "  " }, tone === null ? { text } : { text, tone }];
}

function textOf(estimate: Estimate, given: PriceRow, cells: number): string {
  if (given.kind === "quote") return quoteText(given.line, cells);
  if (given.kind === "cost") return costText(estimate, given.figure, cells);
  return row(cells, given.what, "", given.amount);
}

function quoteText(
  { line, description, quantity, unit, unitPrice, amount, kind }: QuoteLine,
  cells: number,
): string {
  const many = kind === "line" && unit !== "lot" ? `${quantity} ${unit} at ${unitPrice}` : "";
  return row(cells, line === "" ? description : `${line}. ${description}`, many, amount);
}

function costText({ currency }: Estimate, { label, value }: FigureRecord, cells: number): string {
  return row(cells, label, "", moneyText(new Amount(value), currency));
}

/** Cells of `12 pcs at 1234.50`. */
const MANY = 20;

function row(cells: number, what: string, many: string, amount: string): string {
  const free = Math.max(20, cells - 2 - 12 - 2);
  const manyWidth = Math.min(MANY, Math.floor(free * 0.35));
  return columns([
    { text: what, width: free - manyWidth },
    { text: many, width: manyWidth, align: "right" },
    { text: amount, width: 12, align: "right" },
  ]);
}
