import type { Estimate } from "../../estimate-data.ts";
import { usedText, wholeText } from "../../exports/sheets-words.ts";
import { Amount, moneyText } from "../../money.ts";
import { trimmed } from "../../units.ts";
import { columns, plain, windowStart } from "../line.ts";
import type { Line } from "../line.ts";
import { sizeRows } from "../rows.ts";
import type { SizeRow } from "../rows.ts";
import type { State } from "../state.ts";
import { wrap } from "../text.ts";

/** The choice between sizes of sheet: what each would take and cost, for every stock. */

export function sizesPanel(
  { estimate, cursors }: State,
  cells: number,
  rows: number,
): readonly Line[] {
  if (!estimate) return [];
  const all = sizeRows(estimate);
  const chosen = all[cursors.sizes];
  if (!chosen) return [plain("No sheet is needed.")];
  const listed = all.flatMap((given, index) => [
    ...(given.stock === all[index - 1]?.stock ? [] : stockLines(estimate, given, index, cells)),
    { index, line: sizeLine(estimate, given, cells, index === cursors.sizes) },
  ]);
  const more = details(estimate, chosen, cells);
  const shown = Math.max(1, rows - 2 - more.length);
  const at = listed.findIndex(({ index }) => index === cursors.sizes);
  const start = windowStart(listed.length, at, shown);
  const list = listed.slice(start, start + shown).map(({ line }) => line);
  const blank = Array.from({ length: shown - list.length }, () => plain(""));
  return [...list, ...blank, plain(""), ...more];
}

interface Listed {
  /** Of the size under which the line stands; -1 for a line that no cursor stands on. */
  readonly index: number;
  readonly line: Line;
}

function stockLines(
  { currency }: Estimate,
  { stock }: SizeRow,
  index: number,
  cells: number,
): readonly Listed[] {
  const title = `${stock.material} ${trimmed(stock.thicknessMm, 3)} mm`;
  const heading = row(cells, {
    what: title,
    size: "size in mm",
    needed: "needed",
    used: "used",
    gap: "gap",
    cost: currency.code,
  });
  const lines = [...(index > 0 ? [plain("")] : []), plain(`  ${heading}`, "title")];
  return lines.map((line) => ({ index: -1, line }));
}

function sizeLine(
  { currency }: Estimate,
  { size }: SizeRow,
  cells: number,
  selected: boolean,
): Line {
  const text = row(cells, {
    what: `${size.chosen ? "●" : " "} ${nameOf(size)}`,
    size: sizeText(size),
    ...(size.complete ? numbersOf(size, currency) : { needed: "too small" }),
  });
  if (selected) return [{ text: "▸ " }, { text, tone: "selected" }];
  return [{ text: "  " }, size.chosen ? { text, tone: "good" } : { text }];
}

/** Of a mix only what it is; its sheets stand whole below the list. */
function nameOf(size: SizeRow["size"]): string {
  if (!("used" in size)) return size.sheet;
  return size.used.some(({ offcut }) => offcut) ? "with offcuts" : "best mix";
}

function sizeText(size: SizeRow["size"]): string {
  if ("used" in size) return "mixed";
  const { widthMm, heightMm } = size;
  const width = trimmed(widthMm, 1);
  return heightMm === null ? `roll, ${width}` : `${width} x ${trimmed(heightMm, 1)}`;
}

function numbersOf(size: SizeRow["size"], currency: Estimate["currency"]): Cells {
  const { sheets, utilisation, gapPercent, cost } = size;
  return {
    needed: String(sheets),
    used: `${trimmed(utilisation * 100, 1)} %`,
    gap: gapPercent === null ? "-" : `${Math.round(gapPercent)} %`,
    cost: moneyText(new Amount(cost), currency),
  };
}

/** In the order in which they stand. */
const COLUMNS = [
  { name: "what", width: 12 },
  { name: "size", width: 11 },
  { name: "needed", width: 9 },
  { name: "used", width: 6 },
  { name: "gap", width: 5 },
  { name: "cost", width: 10 },
] as const;

type Cells = Partial<Readonly<Record<(typeof COLUMNS)[number]["name"], string>>>;

function row(cells: number, texts: Cells): string {
  const [what, ...numbers] = COLUMNS;
  const others = numbers.reduce((sum, { width }) => sum + width + 1, 0);
  return columns([
    { text: texts.what ?? "", width: Math.max(what.width, cells - 2 - others) },
    ...numbers.map(
      ({ name, width }) => ({ text: texts[name] ?? "", width, align: "right" }) as const,
    ),
  ]);
}

function details({ currency }: Estimate, row: SizeRow, cells: number): readonly Line[] {
  const { stock, size } = row;
  const bound = `No choice of these sizes can cost less than ${moneyText(new Amount(stock.costBound), currency)}.`;
  const texts = [...wrap(standing(row), cells, 2), leftText(size)];
  return [...texts.map((text) => plain(text)), plain(bound, "muted")];
}

function leftText({ leftover, gapPercent }: SizeRow["size"]): string {
  const left =
    leftover === null
      ? "Nothing is left whole that is worth keeping."
      : `Left whole: ${wholeText(leftover)} mm, ${trimmed(leftover.share * 100, 1)} % of its sheet.`;
  const gap = gapPercent ?? 0;
  return gap === 0 ? left : `${left} Gap: ${trimmed(gap, 1)} % above the bound.`;
}

function standing({ stock, size }: SizeRow): string {
  const of = "used" in size ? ` of ${usedText(size.used)}` : "";
  if (size.chosen) {
    const tried = [...stock.bySize, ...[stock.mix, stock.boughtMix].filter((mix) => mix !== null)];
    const dearer = tried.some((one) => one.complete && Number(one.cost) < Number(size.cost));
    const why = dearer
      ? "with machine and handling the whole job is cheaper on it"
      : "the cheapest that takes every part";
    return `● chosen${of}: ${why}${sawnText(size)}.`;
  }
  if (!size.complete) return "Not chosen: some part does not fit on it, or too few are on hand.";
  return `Not chosen${of}: it costs more; 0 on hand in tables/sheets.csv rules a size out.`;
}

function sawnText(size: SizeRow["size"]): string {
  const panels = "used" in size ? 1 : size.panels;
  return panels === 1 ? "" : `, sawn into ${panels} panels`;
}
