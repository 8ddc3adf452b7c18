import type { NestReport, NestedStock } from "../estimate-data.ts";
import { counted } from "../names.ts";
import { sizeText, stockName, trimmed } from "../units.ts";
import { leftoverText } from "./leftover-words.ts";
import { kindOf, usedText } from "./sheets-words.ts";
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
