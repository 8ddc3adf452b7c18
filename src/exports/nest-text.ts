import type { NestReport, NestedStock } from "../estimate-data.ts";
import { Amount, moneyText } from "../money.ts";
import { counted } from "../names.ts";
import { sizeText, stockName, trimmed } from "../units.ts";
import { leftoverText } from "./leftover-words.ts";
import { kindOf, oneSizeText, usedText } from "./sheets-words.ts";
import { columns } from "./wrap.ts";

/** What lies on which sheet, in words. */
export function nestText(report: NestReport): string {
  const blocks = report.stocks.map((stock) => [
    `${stockName(stock)}: ${usedText(stock.used)}, ${percent(stock.utilisation)} used`,
    ...columns(
      stock.sheets.map((sheet, index) => sheetRow(stock, sheet, index)),
      [0, 2],
    ),
    ...leftLines(stock),
    ...stock.unplaced.map(
      ({ part, copies, reason }) => `  no place for ${copies} x ${part}: ${reason}`,
    ),
  ]);
  const effort = `${counted(report.steps, "pass", "passes")}, seed ${report.seed}; each nest was judged: placed once, inside the margin, gaps kept.`;
  return `${blocks.map((lines) => lines.join("\n")).join("\n\n")}\n\n${effort}\n`;
}

/** The best of several sizes, where there is one, and each size for itself, cheapest first: what it would take. */
export function sheetsText(report: NestReport): string {
  const { currency } = report;
  const money = (cost: string): string =>
    currency === null ? cost : moneyText(new Amount(cost), currency);
  const blocks = report.stocks.map((stock) => {
    const rows = stock.bySize.map((size) => [
      size.chosen ? "> " : "  ",
      size.sheet,
      sizeText(size.widthMm, size.heightMm),
      `${size.sheets}`,
      percent(size.utilisation),
      money(size.cost),
      size.complete ? "" : "does not take every part",
    ]);
    const head = ["  ", "sheet", "size", "sheets", "used", currency?.code ?? "cost", ""];
    return [
      stockName(stock),
      ...columns([head, ...mixRows(stock, money), ...rows], [3, 4, 5]),
      `  No choice of these sheets can cost less than ${money(stock.costBound)}.`,
    ];
  });
  return `${blocks.map((lines) => lines.join("\n")).join("\n\n")}\n`;
}

/** The first has what all its sheets come to, the others name what else is taken. */
function mixRows(
  { mix }: NestedStock,
  money: (cost: string) => string,
): readonly (readonly string[])[] {
  if (mix === null) return [];
  const totals = [`${mix.sheets}`, percent(mix.utilisation), money(mix.cost)];
  return mix.used.map((one, index) => [
    index === 0 && mix.chosen ? "> " : "  ",
    oneSizeText(one),
    `${sizeText(one.widthMm, one.heightMm)}${one.offcut ? ", offcut" : ""}`,
    ...(index === 0 ? totals : ["", "", ""]),
    index > 0 || mix.complete ? "" : "do not take every part",
  ]);
}

function leftLines(stock: NestedStock): readonly string[] {
  const left = leftoverText(stock);
  return left === null ? [] : [`  left in one piece: ${left}`];
}

function sheetRow(
  stock: NestedStock,
  sheet: NestedStock["sheets"][number],
  index: number,
): readonly string[] {
  const counts = new Map<string, number>();
  for (const { part } of sheet.placements) counts.set(part, (counts.get(part) ?? 0) + 1);
  const parts = [...counts].map(([part, count]) => `${count} x ${part}`).join(", ");
  const size = sizeText(sheet.widthMm, sheet.heightMm);
  return [
    `  ${kindOf(stock, sheet.sheet)} ${index + 1}`,
    size,
    counted(sheet.placements.length, "part"),
    parts,
  ];
}

function percent(share: number): string {
  return `${trimmed(share * 100, 1)} %`;
}
