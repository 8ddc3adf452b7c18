import Papa from "papaparse";
import type { Problem } from "./problem.ts";

/** Reading and writing RFC 4180, knowing on which line each row stands. */

export interface CsvRow {
  /** Line of the file on which the row begins, from 1. */
  readonly line: number;
  /** Trimmed cell texts by column name; a missing cell is an empty text. */
  readonly cells: Readonly<Record<string, string>>;
}

export interface CsvTable {
  readonly file: string;
  /** Column names, trimmed, lower case, single blanks: `Corner  Radius` is `corner radius`. */
  readonly header: readonly string[];
  readonly rows: readonly CsvRow[];
  readonly problems: readonly Problem[];
}

/** Reads a table with a header line; blank lines are passed over, every fault is reported. */
export function readCsv(file: string, text: string): CsvTable {
  const body = text.replace(/^\uFEFF/, "");
  const records: { line: number; cells: readonly string[] }[] = [];
  const problems: Problem[] = [];
  let line = 1;
  let cursor = 0;
  Papa.parse<string[]>(body, {
    delimiter: delimiterOf(body),
    step: ({ data, errors, meta }) => {
      const blank = data.every((cell) => cell.trim() === "");
      for (const error of errors.slice(0, 1))
        problems.push(quoteProblem(file, line, error.message));
      if (!blank) records.push({ line, cells: data.map((cell) => cell.trim()) });
      line += lineBreaks(body.slice(cursor, meta.cursor));
      cursor = meta.cursor;
    },
  });
  const [head, ...rest] = records;
  const header = (head?.cells ?? []).map(columnName);
  if (head) problems.push(...headerProblems(file, head.line, header));
  const rows = rest.map((record) => {
    if (record.cells.length > header.length)
      problems.push(surplusProblem(file, record.line, header.length, record.cells.length));
    const named = header.map((name, index) => [name, record.cells[index] ?? ""] as const);
    return { line: record.line, cells: Object.fromEntries(named) };
  });
  return { file, header, rows, problems };
}

/**
 * Writes CRLF lines; cells are quoted where RFC 4180 needs it. Texts that a spreadsheet would take
 * for a formula (CWE-1236) get a leading apostrophe; plain numbers stay numbers.
 */
export function writeCsv(header: readonly string[], rows: readonly (readonly string[])[]): string {
  return [header, ...rows].map((row) => `${row.map(cellText).join(",")}\r\n`).join("");
}

/** What a spreadsheet may take for a formula's begin; full-width signs in some languages (ASVS 5.0, 1.2.10; CWE-1236). */
// oxlint-disable-next-line no-control-regex -- a null character is one of them
const FORMULA_START = /^[=+\-@\t\r\n\u0000\uFF1D\uFF0B\uFF0D\uFF20]/;

/** `Corner  Radius ` and `corner radius` are the same column. */
export function columnName(text: string): string {
  return text.trim().toLowerCase().replace(/\s+/g, " ");
}

function cellText(text: string): string {
  const formula = FORMULA_START.test(text) && !/^[+-]?\d+(\.\d+)?$/.test(text);
  const harmless = formula ? `'${text}` : text;
  return /[",\r\n]/.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless;
}

/** The separator is told by the header line alone: data may hold decimal commas. */
function delimiterOf(body: string): string {
  const head = body.slice(0, body.search(/\r|\n|$/));
  const counts = [",", ";", "\t"].map((mark) => ({ mark, count: head.split(mark).length }));
  return counts.reduce((best, next) => (next.count > best.count ? next : best)).mark;
}

function lineBreaks(text: string): number {
  return text.match(/\r\n|\r|\n/g)?.length ?? 0;
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

function quoteProblem(file: string, line: number, message: string): Problem {
  return {
    code: "csv-quotes",
    severity: "error",
    file,
    line,
    column: null,
    found: message,
    expected: "quotes that open and close around a whole cell, inner quotes doubled",
    mend: "Close the quote that opens in this row, or write an inch mark as `in`",
  };
}

function surplusProblem(file: string, line: number, wanted: number, got: number): Problem {
  return {
    code: "csv-surplus-cells",
    severity: "error",
    file,
    line,
    column: null,
    found: `${got} cells`,
    expected: `${wanted} cells, as many as the header names`,
    mend: "Put a cell that holds a comma in quotes, or remove the surplus cells",
  };
}
