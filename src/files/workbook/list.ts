import { createHash } from "node:crypto";
import { asCsvName } from "../../job/file-names.ts";
import { LIST_COLUMNS, QUANTITY_NAMES } from "../../job/lists.ts";
import { OTHER_NAMES, PART_COLUMNS } from "../../job/part-columns.ts";
import { columnKey } from "../../job/header.ts";
import type { SourceText } from "../../job/types.ts";
import { errorAt, inFile, warningAt } from "../../problem.ts";
import type { Checked, Fault, Place, Problem } from "../../problem.ts";
import { readBook } from "./book.ts";
import type { Book } from "./book.ts";
import { brokenWorkbook, otherFile } from "./kinds.ts";
import { columnLetters, readSheet } from "./sheet.ts";
import type { Region, Sheet, SheetCell } from "./sheet.ts";
import { openZip } from "./zip.ts";
import type { Zip } from "./zip.ts";

/**
 * A list in a workbook becomes the text of a CSV whose lines are the rows of the sheet: from
 * there on it is read as any other. What only a sheet can have wrong comes as problems of the text.
 */
export function decodeWorkbook(name: string, bytes: Uint8Array): Checked<SourceText> {
  const refused = otherFile(name, bytes);
  if (refused !== null) return { value: null, problems: [refused] };
  const sheets = sheetsIn(bytes);
  if (sheets === null) return { value: null, problems: [brokenWorkbook(name)] };
  const names = columnNames(name);
  const chosen =
    sheets.find(({ sheet }) => headRow(sheet, names) !== null) ?? sheets.find(isFilled);
  const { text, problems } = asCsv(name, chosen?.sheet ?? NO_SHEET, names);
  const others = sheets.filter((one) => one !== chosen && isFilled(one));
  const notes = others.map((other) => sheetNotRead(name, other.name, chosen?.name ?? ""));
  const sha256 = createHash("sha256").update(bytes).digest("hex");
  return { value: { name, text, sha256, problems: [...problems, ...notes] }, problems: [] };
}

interface NamedSheet {
  readonly name: string;
  readonly sheet: Sheet;
}

const NO_SHEET: Sheet = { rows: new Map(), merged: [], hiddenRows: [], hiddenColumns: [] };

/** All that are seen; null when the file is broken. */
function sheetsIn(bytes: Uint8Array): readonly NamedSheet[] | null {
  try {
    const zip = openZip(bytes);
    const book = readBook(zip);
    return book && book.sheets.map(({ name, path }) => ({ name, sheet: sheetAt(zip, path, book) }));
  } catch {
    // The zip and the XML readers throw at whatever is not as it should be.
    return null;
  }
}

function sheetAt(zip: Zip, path: string, book: Book): Sheet {
  const xml = zip.read(path);
  if (xml === null) throw new RangeError(`no ${path}`);
  return readSheet(xml, book);
}

function isFilled({ sheet }: NamedSheet): boolean {
  return sheet.rows.size > 0;
}

/** What a list may have in its head. */
interface ColumnNames {
  /** Those that are read, by their keys. */
  readonly read: ReadonlyMap<string, string>;
  /** Also what people call them. */
  readonly known: ReadonlySet<string>;
}

/** By the name of the file: a list beside the parts has columns of its own. */
function columnNames(file: string): ColumnNames {
  const list = LIST_COLUMNS.get(asCsvName(file));
  const columns = Object.values(list ?? PART_COLUMNS);
  const read = new Map(columns.map(({ name }) => [columnKey(name), name]));
  const others = Object.keys(list === undefined ? OTHER_NAMES : QUANTITY_NAMES);
  return { read, known: new Set([...read.keys(), ...others]) };
}

/** A title, an address and a date above a list are no more than this. */
const MOST_ABOVE = 10;

/** The first row with two names of columns: one may stand in any text. */
function headRow({ rows }: Sheet, { known }: ColumnNames): number | null {
  const above = [...rows].slice(0, MOST_ABOVE + 1);
  const head = above.find(
    ([, cells]) => [...cells.values()].filter(({ text }) => known.has(columnKey(text))).length >= 2,
  );
  return head?.[0] ?? null;
}

function asCsv(
  name: string,
  sheet: Sheet,
  names: ColumnNames,
): Pick<Required<SourceText>, "text" | "problems"> {
  const head = headRow(sheet, names);
  const header = head === null ? undefined : sheet.rows.get(head);
  const used = new Map(
    [...(header ?? [])].flatMap(([column, { text }]) => {
      const known = names.read.get(columnKey(text));
      return known === undefined || known === PART_COLUMNS.note.name ? [] : [[column, known]];
    }),
  );
  const below = [...sheet.rows.keys()].filter((row) => head !== null && row > head);
  const merged = sheet.merged.filter(
    ({ top, bottom, left, right }) =>
      head !== null && top > head && (top < bottom || left < right) && cellAt(sheet, top, left),
  );
  const texts = spread(sheet, merged);
  if (head !== null) nameColumns(texts, head);
  return {
    text: csvText(texts),
    problems: [
      ...[...used].flatMap(([column, known]) =>
        sheet.hiddenColumns.some(([first, last]) => first <= column && column <= last)
          ? [hiddenColumn({ file: name, line: head, column: known }, column)]
          : [],
      ),
      ...below.flatMap((row) => [
        ...hiddenRow(name, sheet, row),
        ...[...used].flatMap(([column, known]) => {
          const fault = cellFault(sheet, merged, row, column);
          return fault ? [errorAt({ file: name, line: row, column: known }, fault)] : [];
        }),
      ]),
    ],
  };
}

function cellAt({ rows }: Sheet, row: number, column: number): SheetCell | undefined {
  return rows.get(row)?.get(column);
}

type Texts = Map<number, Map<number, string>>;

/** Merged cells are refused, once; meanwhile each of them says what the person sees in it. */
function spread(sheet: Sheet, merged: readonly Region[]): Texts {
  const texts: Texts = new Map(
    [...sheet.rows].map(([row, cells]) => [
      row,
      new Map([...cells].map(([column, { text }]) => [column, text])),
    ]),
  );
  for (const { top, bottom, left } of merged) {
    const text = cellAt(sheet, top, left)?.text ?? "";
    for (let row = top + 1; row <= bottom; row += 1) texts.get(row)?.set(left, text);
  }
  return texts;
}

/** A column without a name is called by its letter, so that it can be named when it is passed over. */
function nameColumns(texts: Texts, head: number): void {
  const header = texts.get(head);
  for (const [row, cells] of texts)
    for (const [column, text] of cells)
      if (row > head && text !== "" && !header?.has(column))
        header?.set(column, `column ${columnLetters(column)}`);
}

function csvText(texts: Texts): string {
  const lines: string[] = [];
  for (const [row, cells] of texts) {
    while (lines.length < row - 1) lines.push("");
    const width = Math.max(...cells.keys());
    const line = Array.from({ length: width }, (_, at) => quoted(cells.get(at + 1) ?? ""));
    lines.push(line.join(","));
  }
  return lines.map((line) => `${line}\n`).join("");
}

function quoted(text: string): string {
  return text === "" ? "" : `"${text.replaceAll('"', '""')}"`;
}

function cellFault(
  sheet: Sheet,
  merged: readonly Region[],
  row: number,
  column: number,
): Fault | null {
  const region = merged.find((one) => one.top === row && one.left <= column && column <= one.right);
  if (region !== undefined) return region.left === column ? mergedFault(region) : null;
  const cell = cellAt(sheet, row, column);
  return cell?.fault ? FAULTS[cell.fault](cell.text) : null;
}

function mergedFault({ name }: Region): Fault {
  return {
    code: "workbook-merged",
    found: `merged cells ${name}`,
    expected: "a cell of its own for every row and column",
    mend: "Undo the merging and fill in each cell",
  };
}

const FAULTS: Readonly<Record<NonNullable<SheetCell["fault"]>, (found: string) => Fault>> = {
  error: (found) => ({
    code: "workbook-error",
    found,
    expected: "a cell without an error",
    mend: "Correct the formula in the cell, or write the value itself",
  }),
  day: (found) => ({
    code: "workbook-day",
    found: `the day ${found}`,
    expected: "a text or a number",
    mend: "Format the cell as text and write it again: a sheet takes 1/8 or 3-4 for a day",
  }),
  "not worked out": () => ({
    code: "workbook-not-worked-out",
    found: "a formula without a value",
    expected: "a formula that was worked out before the workbook was saved",
    mend: "Open the workbook in a spreadsheet program and save it, or write the value itself",
  }),
};

function hiddenColumn(place: Place, column: number): Problem {
  return warningAt(place, {
    code: "workbook-hidden-column",
    found: `column ${columnLetters(column)}, which is hidden`,
    expected: "columns that can be seen",
    mend: "Show the column and look it over, or delete it: hidden columns are read like all others",
  });
}

function hiddenRow(name: string, sheet: Sheet, row: number): readonly Problem[] {
  if (!sheet.hiddenRows.includes(row)) return [];
  const shown = [...(sheet.rows.get(row)?.values() ?? [])].map(({ text }) => text).join(", ");
  const place = { file: name, line: row, column: null };
  return [
    warningAt(place, {
      code: "workbook-hidden-row",
      found: shown,
      expected: "rows that can be seen",
      mend: "Delete the row if it does not count: hidden rows are read like all others",
    }),
  ];
}

function sheetNotRead(name: string, sheet: string, chosen: string): Problem {
  return warningAt(inFile(name), {
    code: "workbook-sheet-not-read",
    found: `a sheet "${sheet}"`,
    expected: "one sheet with the list",
    mend: `Nothing needs to be done if it is no part of the list: only the sheet "${chosen}" is read`,
  });
}
