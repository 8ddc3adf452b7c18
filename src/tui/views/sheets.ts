import type { Estimate, SheetsUsed } from "../../estimate-data.ts";
import { Amount, moneyText } from "../../money.ts";
import { counted } from "../../names.ts";
import { clockText, trimmed } from "../../units.ts";
import { kindOf } from "../../exports/sheets-words.ts";
import { drawSheet } from "../braille.ts";
import type { SheetPicture } from "../braille.ts";
import { block, plain, windowStart } from "../line.ts";
import type { Line, Span } from "../line.ts";
import { partsOnSheet, sheetRows, shareUsed } from "../rows.ts";
import type { SheetRow } from "../rows.ts";
import { selectedPart } from "../state.ts";
import type { State } from "../state.ts";

/** The sheet under the cursor as a picture, and beside it what it is and what lies on it. */

const TEXT_CELLS = 29;
const TEXT_ROWS = 8;
const GAP = 2;

export function sheetsPanel(state: State, cells: number, rows: number): readonly Line[] {
  const { estimate, cursors } = state;
  if (!estimate) return [];
  const all = sheetRows(estimate);
  const row = all[cursors.sheets];
  if (!row) return [plain("No sheet is needed.")];
  const geometry = new Map(estimate.parts.map((part) => [part.name, part.geometry]));
  const chosen = selectedPart(state);
  const draw = (across: number, down: number): SheetPicture =>
    drawSheet(row.sheet, geometry, across, down, chosen);
  const first = about(estimate, row, cursors.sheets, all.length);
  const parts = lyingOn(estimate, row, chosen);
  const chosenRow = partsOnSheet(estimate, row.sheet).findIndex(({ part }) => part === chosen);
  const beside = draw(cells - TEXT_CELLS - GAP, rows);
  const above = draw(cells, Math.max(1, rows - TEXT_ROWS));
  if (extent(above) <= extent(beside)) {
    const width = beside.lines[0]?.length ?? 0;
    const shown = Math.max(1, rows - first.length - 1);
    const start = windowStart(parts.length, chosenRow, shown);
    const told = [...first, plain(""), ...parts.slice(start, start + shown)];
    return joined(pictureLines(beside), width, told, cells, rows);
  }
  const half = Math.floor((cells - GAP) / 2);
  return [
    ...pictureLines(above),
    plain(""),
    ...joined(first, half, parts, cells, rows - above.lines.length - 1),
  ];
}

/** How large a picture came out. */
function extent({ lines }: SheetPicture): number {
  return lines.length * (lines[0]?.length ?? 0);
}

function joined(
  left: readonly Line[],
  width: number,
  right: readonly Line[],
  cells: number,
  rows: number,
): readonly Line[] {
  const beside = block(right, cells - width - GAP, rows);
  return block(left, width, rows).map((line, index) => [
    ...line,
    { text: " ".repeat(GAP) },
    ...(beside[index] ?? []),
  ]);
}

function about(estimate: Estimate, row: SheetRow, index: number, count: number): readonly Line[] {
  const { stock, sheet, time } = row;
  const kind = kindOf(stock, sheet.sheet);
  const what = kind === "roll" ? "length of roll" : kind;
  const used = stock.used.find((one) => one.sheet === sheet.sheet);
  const kinds = partsOnSheet(estimate, sheet).length;
  const share = trimmed(shareUsed(estimate, sheet) * 100, 1);
  return [
    plain(`${what} ${index + 1} of ${count}`, "title"),
    plain(`${stock.material} ${trimmed(stock.thicknessMm, 3)} mm`),
    plain(sheet.sheet),
    plain(`${trimmed(sheet.widthMm, 1)} x ${trimmed(sheet.heightMm, 1)} mm, used ${share} %`),
    plain(`machine ${time ? clockText(time.runningS) : "not timed"}`),
    plain(
      `${takenText(used)}: ${moneyText(new Amount(used?.cost ?? 0), estimate.currency)} ${estimate.currency.code}`,
    ),
    plain(
      `${counted(sheet.placements.length, "copy", "copies")} of ${counted(kinds, "part")} on it`,
      "muted",
    ),
  ];
}

/** `3 of this size`, `9 panels`. */
function takenText(used: SheetsUsed | undefined): string {
  if (used === undefined || used.panels === 1) return `${used?.count ?? 0} of this size`;
  return counted(used.count, "panel");
}

function lyingOn(estimate: Estimate, row: SheetRow, chosen: string | null): readonly Line[] {
  return partsOnSheet(estimate, row.sheet).map(({ part, copies }) => {
    const text = `${part === chosen ? "█ " : "  "}${copies} x ${part}`;
    return part === chosen ? plain(text, "picture") : plain(text);
  });
}

function pictureLines({ lines, selected }: SheetPicture): readonly Line[] {
  return lines.map((line, row) => spansOf(line, selected[row] ?? new Set()));
}

/** Runs of cells that show the selected part, and runs that do not. */
function spansOf(line: string, selected: ReadonlySet<number>): Line {
  const spans: Span[] = [];
  Array.from(line).forEach((cell, column) => {
    const last = spans.at(-1);
    const bright = selected.has(column);
    if (last && (last.tone === "picture") === bright)
      spans[spans.length - 1] = { ...last, text: last.text + cell };
    else spans.push(bright ? { text: cell, tone: "picture" } : { text: cell });
  });
  return spans;
}
