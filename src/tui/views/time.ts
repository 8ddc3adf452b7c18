import type { Estimate } from "../../estimate-data.ts";
import { clockText, trimmed } from "../../units.ts";
import { columns, plain, windowStart } from "../line.ts";
import type { Line } from "../line.ts";
import { timeRows } from "../rows.ts";
import type { SheetRow, TimeRow } from "../rows.ts";
import type { State } from "../state.ts";

/** How long the machine works each sheet, operation by operation. */

export function timePanel(state: State, cells: number, rows: number): readonly Line[] {
  const { estimate, cursors } = state;
  if (!estimate) return [];
  const all = timeRows(estimate);
  const foot = footing(estimate);
  const shown = Math.max(1, rows - 1 - foot.length);
  const start = windowStart(all.length, cursors.time, shown);
  const list = all
    .slice(start, start + shown)
    .map((row, index) => timeLine(row, cells, start + index === cursors.time));
  const blank = Array.from({ length: shown - list.length }, () => plain(""));
  const heading = row(cells, [
    "sheet, operation",
    "length m",
    "contours",
    "passes",
    "time",
    "fastest to slowest",
  ]);
  return [plain(`  ${heading}`, "muted"), ...list, ...blank, ...foot];
}

function timeLine({ of, operation }: TimeRow, cells: number, chosen: boolean): Line {
  const text = operation
    ? row(cells, [
        `  ${operation.operation}`,
        trimmed(operation.lengthMm / 1000, 2),
        String(operation.contours),
        String(operation.passes),
        clockText(operation.workingS + operation.pierceS),
        rangeText(operation.fastestS + operation.pierceS, operation.slowestS + operation.pierceS),
      ])
    : sheetText(of, cells);
  if (chosen) return [{ text: "▸ " }, { text, tone: "selected" }];
  return [{ text: "  " }, operation ? { text } : { text, tone: "title" }];
}

function sheetName({ stock, index }: SheetRow): string {
  return `${stock.material} ${trimmed(stock.thicknessMm, 3)} mm, sheet ${index + 1} of ${stock.sheets.length}`;
}

/** `3:20 to 5:00 min`: the unit once where both have the same. */
function rangeText(fromS: number, toS: number): string {
  const [from, to] = [clockText(fromS), clockText(toS)];
  const [number = "", unit] = from.split(" ");
  return `${to.endsWith(` ${unit}`) ? number : from} to ${to}`;
}

function travel({ time }: SheetRow): string {
  return time ? `travel ${clockText(time.travelS)}` : "";
}

/** Cells of length, contours, passes, time and range. */
const NUMBERS = [8, 8, 6, 10, 22] as const;

function row(cells: number, texts: readonly string[]): string {
  const [what = "", ...numbers] = texts;
  const right = numbers.map(
    (text, index) => ({ text, width: NUMBERS[index] ?? 0, align: "right" }) as const,
  );
  return columns([{ text: what, width: nameWidth(cells, NUMBERS) }, ...right]);
}

/** The sum of a sheet has no length, contours and passes: its name may reach over them. */
function sheetText(of: SheetRow, cells: number): string {
  const [, , , time, range] = NUMBERS;
  return columns([
    { text: sheetName(of), width: nameWidth(cells, [time, range]) },
    { text: of.time ? clockText(of.time.runningS) : "", width: time, align: "right" },
    { text: travel(of), width: range, align: "right" },
  ]);
}

function nameWidth(cells: number, others: readonly number[]): number {
  return Math.max(12, cells - 2 - others.reduce((sum, width) => sum + width + 1, 0));
}

/** What is billed is a figure: machine minutes with loading and set-up. */
function footing({ figures, machine }: Estimate): readonly Line[] {
  const minutes = figures.filter(
    ({ id, unit }) => unit === "min" && /^machine\.(?:minutes|billed|minimum)$/.test(id),
  );
  return [
    plain(""),
    plain(machine.description, "title"),
    ...minutes.map(({ label, value }) => plain(`${label}: ${trimmed(Number(value), 1)} min`)),
  ];
}
