import type { CsvTable } from "../csv.ts";
import { readCsv } from "../csv.ts";
import { errorAt, inColumn, isError, placeText } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import type { CellKind } from "./cells.ts";
import { columnKey, headerElsewhere, noHeader, readHeader } from "./header.ts";
import type { ColumnName } from "./header.ts";
import { marksOf, plainText } from "./decimal-marks.ts";
import type { Field, Marks } from "./decimal-marks.ts";
import type { SourceText } from "./types.ts";

/** One reader for every table there is: a table is a list of columns, a column is one line. */

export interface Column<T> {
  /** As documented; `_` and blank are the same in a header. */
  readonly name: string;
  readonly read: (cell: string) => T | null;
  readonly kind: Omit<CellKind<unknown>, "read">;
  /** What an empty cell or a missing column means; undefined when it must be filled. */
  readonly whenEmpty: { readonly value: T } | undefined;
}

export type Columns = Readonly<Record<string, Column<unknown>>>;

export type ValuesOf<C extends Columns> = {
  readonly [K in keyof C]: C[K] extends Column<infer T> ? T : never;
};

export interface Row<C extends Columns> {
  /** `column` is null. */
  readonly place: Place;
  readonly values: ValuesOf<C>;
  /** Cells of columns that are not known, by header. */
  readonly other: Readonly<Record<string, string>>;
}

/** What of a row's cells could be read; undefined is a cell with a fault, or its column missing. */
export type Readable<V> = { readonly [K in keyof V]: V[K] | undefined };

export interface RowsRead<C extends Columns> {
  /** Rows without a fault. */
  readonly rows: readonly Row<C>[];
  /** All rows in order: so that a fault in one cell hides none in the others. */
  readonly readable: readonly {
    readonly place: Place;
    readonly values: Readable<ValuesOf<C>>;
  }[];
  /** First column of every row, also of faulty ones: what the file meant to define. */
  readonly named: readonly string[];
  /** The cells of every row as they stand, also of faulty ones, by column name. */
  readonly texts: readonly {
    readonly place: Place;
    readonly cells: Readonly<Record<string, string>>;
  }[];
  /** Where the column names stand. */
  readonly head: Place;
  /** Known columns that are not there, with what is probably a slip for it, or an empty text. */
  readonly absent: ReadonlyMap<string, string>;
  /** Whether it is unknown which rows there are. */
  readonly unreadable: boolean;
  readonly problems: readonly Problem[];
}

export function required<T>(name: string, kind: CellKind<T>): Column<T> {
  return { name, read: kind.read, kind, whenEmpty: undefined };
}

export function optional<T, E>(name: string, kind: CellKind<T>, value: E): Column<T | E> {
  return { name, read: kind.read, kind, whenEmpty: { value } };
}

/**
 * Reads a table by its columns and reports every fault of every row at once. In a file that is not
 * parted by commas a decimal comma is read, if all its numbers have one, and a point that may part
 * thousands is asked about, if no number tells.
 * @param otherNames what people call a column, by that name: only used to suggest the right one.
 */
export function readRows<C extends Columns>(
  source: SourceText,
  columns: C,
  otherNames: Readonly<Record<string, string>> = {},
): RowsRead<C> {
  const written = tableOf(source);
  const head: Place = { file: source.name, line: firstLine(source.text), column: null };
  const names = Object.values(columns).map(nameOf);
  if (head.line === null) return nothing(head, noHeader(head, "", requiredNames(columns)));
  const elsewhere = headerElsewhere(source, written, names, otherNames);
  if (elsewhere !== null) return nothing(head, elsewhere);
  const { table, absent, problems: ofHeader } = readHeader(written, head, names, otherNames);
  const fields = fieldsOf(table, columns);
  const marks = marksOf(table, fields);
  const misread = new Set(table.problems.map(({ line }) => line));
  const before = source.problems ?? [];
  const ofCells = new Map(before.filter(isError).map((one) => [placeText(one), one]));
  const read = table.rows
    .filter(({ line }) => !misread.has(line))
    .map(({ line, cells }) => readRow<C>({ ...head, line }, cells, fields, marks, ofCells));
  const ofRows = read.flatMap(({ problems }) => problems);
  const complete = requiredNames(columns).every((name) => !absent.has(name));
  const named = table.rows.map(({ cells }) => cells[fields[0]?.key ?? ""] ?? "");
  const unnamed = absent.get(names[0]?.name ?? "") === "";
  return {
    rows: read.flatMap(({ row, problems }) => (complete && problems.length === 0 ? [row] : [])),
    readable: read.map(({ row }) => row),
    named: named.filter((name) => name !== ""),
    texts: table.rows.map(({ line, cells }) => ({ place: { ...head, line }, cells })),
    head,
    absent,
    unreadable: unnamed || table.problems.some(({ code }) => code !== "csv-surplus-cells"),
    problems: [
      ...table.problems,
      ...ofHeader,
      ...before.filter((one) => !ofRows.includes(one)),
      ...ofRows,
    ],
  };
}

function nothing<C extends Columns>(head: Place, problem: Problem): RowsRead<C> {
  const absent = new Map<string, string>();
  const none = { rows: [], readable: [], named: [], texts: [] };
  return { ...none, head, absent, unreadable: true, problems: [problem] };
}

/**
 * Line breaks of all kinds count once, mixed or not. Characters that nobody sees, as they come with
 * a text copied from a page, are dropped.
 */
function tableOf(source: SourceText): CsvTable {
  const text = source.text.replace(/\r\n?/g, "\n").replace(UNSEEN, "");
  const table = readCsv(source.name, text);
  const keys = new Map(table.header.map((name) => [name, columnKey(name)]));
  const rows = table.rows.map(({ line, cells }) => ({
    line,
    cells: Object.fromEntries(
      Object.entries(cells).map(([name, cell]) => [keys.get(name) ?? name, cell]),
    ),
  }));
  return { ...table, header: table.header.map(columnKey), rows };
}

/** Soft hyphen, zero-width space, word joiner, byte order mark (Unicode 15, general category Cf). */
const UNSEEN = /[\u00AD\u200B\u2060\uFEFF]/g;

function nameOf({ name, whenEmpty }: Column<unknown>): ColumnName {
  return { name, optional: whenEmpty !== undefined };
}

function requiredNames(columns: Columns): readonly string[] {
  return Object.values(columns)
    .filter(({ whenEmpty }) => whenEmpty === undefined)
    .map(({ name }) => name);
}

/** Line of the header, from 1; null for a file without any text. */
function firstLine(text: string): number | null {
  const lines = text.split(/\r\n|\r|\n/);
  const index = lines.findIndex((line) => /[^\s,;\uFEFF]/.test(line));
  return index < 0 ? null : index + 1;
}

function fieldsOf(table: CsvTable, columns: Columns): readonly Field[] {
  return Object.entries(columns).map(([field, column]) => {
    const key = columnKey(column.name);
    return { field, column, key, present: table.header.includes(key) };
  });
}

function readRow<C extends Columns>(
  place: Place,
  cells: Readonly<Record<string, string>>,
  fields: readonly Field[],
  marks: Marks,
  before: ReadonlyMap<string, Problem>,
): { readonly row: Row<C>; readonly problems: readonly Problem[] } {
  const problems: Problem[] = [];
  const values = fields.map(({ field, column, key, present }) => {
    const cell = cells[key] ?? "";
    const faulty = before.get(placeText(inColumn(place, column.name)));
    if (faulty !== undefined) {
      problems.push(faulty);
      return [field, undefined];
    }
    if (cell === "") {
      if (column.whenEmpty === undefined && present) problems.push(emptyCell(place, column));
      return [field, column.whenEmpty?.value];
    }
    const text = plainText(cell, column, marks);
    if (typeof text !== "string") {
      problems.push(errorAt(inColumn(place, column.name), text));
      return [field, undefined];
    }
    const value = column.read(text);
    if (value === null) problems.push(wrongCell(place, column, cell));
    return [field, value ?? undefined];
  });
  const other = Object.entries(cells).filter(
    ([name, cell]) => cell !== "" && !fields.some(({ key }) => key === name),
  );
  const row: Row<C> = {
    place,
    // oxlint-disable-next-line no-unsafe-type-assertion -- each field holds what its own column read, or the row is not among the sound ones
    values: Object.fromEntries(values) as ValuesOf<C>,
    other: Object.fromEntries(other),
  };
  return { row, problems };
}

function emptyCell(place: Place, { name, kind }: Column<unknown>): Problem {
  return errorAt(inColumn(place, name), {
    code: "empty-cell",
    found: "",
    expected: kind.expected,
    mend: kind.never === undefined ? `Fill in ${name}` : `Fill in ${name}: ${kind.never}`,
  });
}

function wrongCell(place: Place, { name, kind }: Column<unknown>, found: string): Problem {
  const { code, expected, mend } = kind;
  return errorAt(inColumn(place, name), { code, found, expected, mend: mend(found) });
}
