import type { CsvStyle } from "../csv.ts";
import type { Estimate, QuoteLine } from "../estimate-data.ts";
import { Amount, moneyText, roundMoney } from "../money.ts";
import { escaped } from "./markup.ts";

/** The tables of the customer's page: what it costs, and when it is paid. */

export function priceTable(estimate: Estimate, style: CsvStyle): string {
  const { quote, currency } = estimate;
  const lines = quote.filter(({ kind }) => kind === "line");
  const sections = [...new Set(lines.map(({ section }) => section))];
  const bodies = sections.map((section) =>
    sectionBody(
      section,
      lines.filter((line) => line.section === section),
      style,
    ),
  );
  const sums = quote
    .filter(({ kind }) => kind !== "line")
    .map((row) => sumRow(row, estimate, style));
  return [
    `<table>`,
    `<caption>Price in ${currency.code}</caption>`,
    head(["Item", "Quantity", "Each", "Amount"]),
    ...bodies,
    `<tbody class="sums">\n${sums.join("\n")}\n</tbody>`,
    `</table>`,
  ].join("\n");
}

function sectionBody(
  section: QuoteLine["section"],
  lines: readonly QuoteLine[],
  style: CsvStyle,
): string {
  const alone = lines.every(({ description }) => description === section);
  const rows = lines.map((row) => lineRow(row, style, alone));
  // What changes the price as a whole belongs to no section of the work.
  const heading =
    alone || section === "Total"
      ? []
      : [`<tr class="section"><th colspan="4" scope="rowgroup">${escaped(section)}</th></tr>`];
  return `<tbody>\n${[...heading, ...rows].join("\n")}\n</tbody>`;
}

function head([first = "", ...others]: readonly string[]): string {
  const cells = others.map((name) => `<th scope="col" class="number">${name}</th>`);
  return `<thead><tr><th scope="col">${first}</th>${cells.join("")}</tr></thead>`;
}

/**
 * A lot has no price of one.
 * @param alone whether the line is all there is of its section, and bears its name.
 */
function lineRow(
  { description, basis, quantity, unit, unitPrice, amount }: QuoteLine,
  style: CsvStyle,
  alone: boolean,
): string {
  const [count, each] =
    unit === "lot"
      ? ["", ""]
      : [`${pageNumber(quantity, style)} ${unit}`, pageNumber(unitPrice, style)];
  const cells = [escaped(count), each, pageNumber(amount, style)];
  const row = alone ? `<tr class="alone">` : `<tr>`;
  return `${row}<th scope="row">${described(description, basis)}</th>${numbers(cells)}</tr>`;
}

function sumRow(row: QuoteLine, estimate: Estimate, style: CsvStyle): string {
  const words = described(row.description, sumWords(row, estimate, style));
  const amount = numbers([pageNumber(row.amount, style)]);
  return `<tr class="${row.kind}"><th colspan="3" scope="row">${words}</th>${amount}</tr>`;
}

/** What a sum covers; what stands at the head of the page is not said again. */
function sumWords({ kind, basis }: QuoteLine, estimate: Estimate, style: CsvStyle): string {
  if (kind === "total") return "";
  if (kind === "tax") return basis.replace(/\d+\.\d+/, (amount) => pageNumber(amount, style));
  const { figures, pieces, pieceName, currency } = estimate;
  const each = new Amount(figures.find(({ id }) => id === "quote.each")?.value ?? 0);
  const about = roundMoney(each, currency).eq(each) ? "" : "about ";
  return `${pieces} × ${pieceName}, ${about}${pageNumber(moneyText(each, currency), style)} each`;
}

function described(description: string, basis: string): string {
  return escaped(description) + (basis === "" ? "" : ` <small>${escaped(basis)}</small>`);
}

function numbers(cells: readonly string[]): string {
  return cells.map((cell) => `<td class="number">${cell}</td>`).join("");
}

export function paymentTable({ terms, currency }: Estimate, style: CsvStyle): string {
  const rows = terms.stages.map(
    ({ name, due, percent, amount }) =>
      `<tr><th scope="row">${described(name, due)}</th>${numbers([`${pageNumber(percent, style)} %`, pageNumber(amount, style)])}</tr>`,
  );
  return [
    `<table class="whole">`,
    `<caption>Payment in ${currency.code}, of the total with tax</caption>`,
    head(["Stage", "Share", "Amount"]),
    `<tbody>\n${rows.join("\n")}\n</tbody>`,
    `</table>`,
  ].join("\n");
}

/** Digits in threes from five on, a narrow blank between (ISO 80000-1), which is read alike anywhere. */
export function pageNumber(decimal: string, { decimalMark }: CsvStyle): string {
  const [whole = "", decimals] = decimal.replace("-", "\u2212").split(".");
  const digits = whole.replace("\u2212", "").length;
  const grouped = digits < 5 ? whole : whole.replace(/\B(?=(\d{3})+$)/g, "\u202F");
  return decimals === undefined ? grouped : `${grouped}${decimalMark}${decimals}`;
}
