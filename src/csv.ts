import Papa from "papaparse";
import type { Problem } from "./problem.ts";

/** Reading and writing RFC 4180, knowing on which line each row stands. */

export interface CsvRow {
  /** Line of the file on which the row begins, from 1. */
  readonly line: number;
  /** Trimmed cell texts by column name; a missing cell is an empty text. */
  readonly cells: Readonly<Record<string, string>>;
}

export type Separator = "," | ";" | "\t";

export interface CsvTable {
  readonly file: string;
  /** What stands between its cells. */
  readonly separator: Separator;
  /** Column names, trimmed, lower case, single blanks: `Corner  Radius` is `corner radius`. */
  readonly header: readonly string[];
  readonly rows: readonly CsvRow[];
  readonly problems: readonly Problem[];
}

/**
 * Reads a table with a header line; blank lines are passed over, every fault is reported. A quote
 * that never closes costs its own row and no other.
 */
export function readCsv(file: string, text: string): CsvTable {
  const { separator, records, problems } = readRecords(file, text);
  const [head, ...rest] = records;
  const header = (head?.cells ?? []).map(columnName);
  const rows = rest.map((record) => {
    const named = header.map((name, index) => [name, record.cells[index] ?? ""] as const);
    return { line: record.line, cells: Object.fromEntries(named) };
  });
  const surplus = rest
    .filter(({ cells }) => cells.length > header.length)
    .flatMap((record) => surplusProblem(file, record, header.length, separator));
  const twice = head ? headerProblems(file, head.line, header) : [];
  return { file, separator, header, rows, problems: [...problems, ...twice, ...surplus] };
}

export interface CsvRecord {
  readonly line: number;
  /** Trimmed, in order. */
  readonly cells: readonly string[];
}

/** The records of a CSV file with its header as the first, as they stand. */
export function readRecords(
  file: string,
  text: string,
): {
  readonly separator: Separator;
  readonly records: readonly CsvRecord[];
  readonly problems: readonly Problem[];
} {
  const whole = text.replace(/^\uFEFF/, "");
  const separator = separatorOf(whole);
  const open = openQuotes(whole, separator);
  const body = withoutLines(whole, open);
  const records: CsvRecord[] = [];
  let line = 1;
  let cursor = 0;
  Papa.parse<string[]>(body, {
    delimiter: separator,
    step: ({ data, meta }) => {
      const cells = data.map((cell) => cell.trim());
      const isRecord = records.length === 0 ? hasText : (cell: string) => cell !== "";
      if (cells.some(isRecord)) records.push({ line, cells });
      line += lineBreaks(body.slice(cursor, meta.cursor));
      cursor = meta.cursor;
    },
  });
  return { separator, records, problems: open.map((quote) => quoteProblem(file, quote)) };
}

/** A text, or a number as `12.50`, which is written with the decimal mark of the style. */
export type CsvCell = string | { readonly decimal: string };

/** What stands between cells and before decimals. */
export interface CsvStyle {
  readonly separator: "," | ";";
  readonly decimalMark: "." | ",";
}

/** As RFC 4180 has it. */
export const DECIMAL_POINT: CsvStyle = { separator: ",", decimalMark: "." };
/** As spreadsheets have it where decimals have a comma. */
export const DECIMAL_COMMA: CsvStyle = { separator: ";", decimalMark: "," };

/**
 * Writes CRLF lines; cells are quoted where RFC 4180 needs it. Texts that a spreadsheet would take
 * for a formula (CWE-1236) get a leading apostrophe; plain numbers stay numbers.
 */
export function writeCsv(
  header: readonly string[],
  rows: readonly (readonly CsvCell[])[],
  style = DECIMAL_POINT,
): string {
  return [header, ...rows]
    .map((row) => `${row.map((cell) => cellText(cell, style)).join(style.separator)}\r\n`)
    .join("");
}

/** `Corner  Radius ` and `corner radius` are the same column. */
export function columnName(text: string): string {
  return text.trim().toLowerCase().replace(/\s+/g, " ");
}

/** Whether a spreadsheet may take a text for a formula. */
export function startsFormula(text: string): boolean {
  return FORMULA_START.test(text);
}

/** Full-width signs count in some languages (ASVS 5.0, 1.2.10; CWE-1236). */
// oxlint-disable-next-line no-control-regex -- a null character is one of them
const FORMULA_START = /^[ "]*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20]|^[\t\r\n\u0000]/;

/**
 * Where a formula would begin: also behind a mark that another program takes for the separator, as it
 * sees no quotes around our cells then (OWASP, CSV injection).
 */
const FORMULA_STARTS = {
  ",": /(^|[;\t\r\n])([ "]*)(?=[=+\-@\uFF1D\uFF0B\uFF0D\uFF20])/g,
  ";": /(^|[,\t\r\n])([ "]*)(?=[=+\-@\uFF1D\uFF0B\uFF0D\uFF20])/g,
} as const;

function cellText(cell: CsvCell, { separator, decimalMark }: CsvStyle): string {
  const text =
    typeof cell === "string"
      ? withoutFormula(cell, separator)
      : cell.decimal.replace(".", decimalMark);
  const bare = !text.includes(separator) && !/["\r\n]/.test(text);
  return bare ? text : `"${text.replaceAll('"', '""')}"`;
}

function withoutFormula(text: string, separator: CsvStyle["separator"]): string {
  if (/^[+-]?\d+(\.\d+)?$/.test(text)) return text;
  // oxlint-disable-next-line no-control-regex -- a null character is one of them
  const begun = text.replace(/^(?=[\t\r\n\u0000])/, "'");
  return begun.replace(FORMULA_STARTS[separator], "$1$2'");
}

/**
 * The separator is told by the header line alone, outside of quotes: data may hold decimal commas.
 * A line of nothing but blanks and separators is no header.
 */
function separatorOf(body: string): Separator {
  const head = body.split(LINE_BREAK).find(hasText) ?? "";
  const bare = head.replace(/"[^"]*"/g, "");
  const counts = ([",", ";", "\t"] as const).map((mark) => ({
    mark,
    count: bare.split(mark).length,
  }));
  return counts.reduce((best, next) => (next.count > best.count ? next : best)).mark;
}

function hasText(text: string): boolean {
  return /[^\s,;]/.test(text);
}

const LINE_BREAK = /\r\n|\r|\n/;

function lineBreaks(text: string): number {
  return text.split(LINE_BREAK).length - 1;
}

/** A quote that opens a cell and does not close it as RFC 4180 has it. */
interface OpenQuote {
  /** On which its record begins. */
  readonly recordLine: number;
  readonly line: number;
  /** The text of the line from the quote on. */
  readonly text: string;
}

/** Each of them costs its own record; after it reading goes on in the line after the quote. */
function openQuotes(body: string, separator: Separator): readonly OpenQuote[] {
  const faults: OpenQuote[] = [];
  const cellEnd = new RegExp(`${separator}|\\r\\n|\\r|\\n`, "g");
  let line = 1;
  let recordLine = 1;
  let at = 0;
  while (at < body.length) {
    if (body[at] === '"') {
      const close = closingEnd(body, at, separator);
      if (close === null) {
        const [text = ""] = body.slice(at, at + MOST_SHOWN).split(LINE_BREAK);
        faults.push({ recordLine, line, text });
        at += body.slice(at).search(/\r|\n|$/);
      } else {
        line += lineBreaks(body.slice(at, close));
        at = close;
      }
    }
    cellEnd.lastIndex = at;
    const end = cellEnd.exec(body);
    if (end === null) return faults;
    at = cellEnd.lastIndex;
    if (end[0] !== separator) {
      line += 1;
      recordLine = line;
    }
  }
  return faults;
}

const MOST_SHOWN = 40;

/** Where the quoted cell that opens at `at` ends; null when it does not close before a separator. */
function closingEnd(body: string, at: number, separator: Separator): number | null {
  let quote = body.indexOf('"', at + 1);
  while (quote >= 0 && body[quote + 1] === '"') quote = body.indexOf('"', quote + 2);
  if (quote < 0) return null;
  const blanks = separator === "\t" ? / */y : /[ \t]*/y;
  blanks.lastIndex = quote + 1;
  blanks.exec(body);
  const after = body[blanks.lastIndex];
  const closed = after === undefined || [separator, "\r", "\n"].includes(after);
  return closed ? blanks.lastIndex : null;
}

/** The same text with the lines of these records left blank, so that all others keep their lines. */
function withoutLines(body: string, open: readonly OpenQuote[]): string {
  if (open.length === 0) return body;
  const pieces = body.split(/(\r\n|\r|\n)/);
  for (const { recordLine, line } of open)
    for (let blank = recordLine; blank <= line; blank += 1) pieces[2 * (blank - 1)] = "";
  return pieces.join("");
}

function headerProblems(file: string, line: number, header: readonly string[]): readonly Problem[] {
  return header
    .filter((name, index) => name !== "" && header.indexOf(name) !== index)
    .map((name) => ({
      code: "column-twice",
      severity: "error",
      file,
      line,
      column: name,
      found: name,
      expected: "each column once",
      mend: "Remove or rename one of the two columns",
    }));
}

function quoteProblem(file: string, { line, text }: OpenQuote): Problem {
  const inch = /\d\s*"/.test(text) || /^"\s*\d/.test(text);
  return {
    code: "csv-quotes",
    severity: "error",
    file,
    line,
    column: null,
    found: text,
    expected: "quotes that open and close around a whole cell, inner quotes doubled",
    mend: `Close the quote that opens here, or remove it${inch ? "; inches may be written as 3/16 in" : ""}`,
  };
}

/** Empty cells at the end of a row do no harm, unless a decimal comma pushed them there. */
function surplusProblem(
  file: string,
  { line, cells }: CsvRecord,
  wanted: number,
  separator: Separator,
): readonly Problem[] {
  const split = separator === "," ? splitNumbers(cells) : [];
  const empty = cells.slice(wanted).every((cell) => cell === "");
  if (empty && split.length === 0) return [];
  const shown = split.slice(0, MOST_NUMBERS).join(" or ");
  const point = shown === "" ? "" : `Write ${shown} with a decimal point if that is meant. `;
  const quotes = `Put a cell that holds a ${SEPARATOR_NAMES[separator]} in quotes, or remove`;
  return [
    {
      code: "csv-surplus-cells",
      severity: "error",
      file,
      line,
      column: null,
      found: `${cells.length} cells`,
      expected: `${wanted} cells, as many as the header names`,
      mend: `${point}${empty ? "Remove" : quotes} the surplus cells`,
    },
  ];
}

const SEPARATOR_NAMES: Readonly<Record<Separator, string>> = {
  ",": "comma",
  ";": "semicolon",
  "\t": "tab",
};

/** `12.5` for the neighbours `12` and `5 mm`, which a decimal comma may have made of one number. */
function splitNumbers(cells: readonly string[]): readonly string[] {
  return cells.flatMap((cell, index) => {
    const next = cells[index + 1] ?? "";
    const split = /^\d+$/.test(cell) && /^\d+\s*([a-z]+|")?$/i.test(next);
    return split ? [`${cell}.${next}`] : [];
  });
}

const MOST_NUMBERS = 3;
