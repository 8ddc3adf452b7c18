import type { CsvTable } from "../csv.ts";
import { columnName, readCsv } from "../csv.ts";
import { errorAt, inColumn, warningAt } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import type { CellKind } from "./cells.ts";
import { mendName, nearest } from "../names.ts";
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

export interface RowsRead<C extends Columns> {
  /** Rows without a fault. */
  readonly rows: readonly Row<C>[];
  /** First column of every row, also of faulty ones: what the file meant to define. */
  readonly named: readonly string[];
  /** The cells of every row as they stand, also of faulty ones, by column name. */
  readonly texts: readonly {
    readonly place: Place;
    readonly cells: Readonly<Record<string, string>>;
  }[];
  readonly problems: readonly Problem[];
}

export function required<T>(name: string, kind: CellKind<T>): Column<T> {
  return { name, read: kind.read, kind, whenEmpty: undefined };
}

export function optional<T, E>(name: string, kind: CellKind<T>, value: E): Column<T | E> {
  return { name, read: kind.read, kind, whenEmpty: { value } };
}

/**
 * Reads a table by its columns and reports every fault of every row at once.
 * @param otherNames what people call a column, by that name: only used to suggest the right one.
 */
export function readRows<C extends Columns>(
  source: SourceText,
  columns: C,
  otherNames: Readonly<Record<string, string>> = {},
): RowsRead<C> {
  const table = tableOf(source);
  const headLine = firstLine(source.text);
  if (headLine === null)
    return { rows: [], named: [], texts: [], problems: [noHeader(source.name, columns)] };
  const head: Place = { file: source.name, line: headLine, column: null };
  const problems = [...table.problems, ...headerProblems(table, head, columns, otherNames)];
  const misread = new Set(table.problems.map(({ line }) => line));
  const complete = requiredNames(columns).every((name) => has(table, name));
  const rows: Row<C>[] = [];
  const fields = fieldsOf(table, columns);
  for (const { line, cells } of table.rows) {
    if (misread.has(line)) continue;
    const row = readRow<C>({ file: source.name, line, column: null }, cells, fields);
    problems.push(...row.problems);
    if (complete && row.problems.length === 0) rows.push(row);
  }
  const named = table.rows.map(({ cells }) => cells[fields[0]?.key ?? ""] ?? "");
  const texts = table.rows.map(({ line, cells }) => ({
    place: { file: source.name, line, column: null },
    cells,
  }));
  return { rows, named: named.filter((name) => name !== ""), texts, problems };
}

/** `corner_radius` is `corner radius`. Line breaks of all kinds count once, mixed or not. */
function tableOf(source: SourceText): CsvTable {
  const table = readCsv(source.name, source.text.replace(/\r\n?/g, "\n"));
  const keys = new Map(table.header.map((name) => [name, key(name)]));
  const rows = table.rows.map(({ line, cells }) => ({
    line,
    cells: Object.fromEntries(
      Object.entries(cells).map(([name, cell]) => [keys.get(name) ?? name, cell]),
    ),
  }));
  return { ...table, header: table.header.map(key), rows };
}

function key(name: string): string {
  return columnName(name.replaceAll("_", " "));
}

function has(table: CsvTable, name: string): boolean {
  return table.header.includes(key(name));
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

/** A column and where it stands in the table at hand. */
interface Field {
  readonly field: string;
  readonly column: Column<unknown>;
  readonly key: string;
  readonly present: boolean;
}

function fieldsOf(table: CsvTable, columns: Columns): readonly Field[] {
  return Object.entries(columns).map(([field, column]) => ({
    field,
    column,
    key: key(column.name),
    present: has(table, column.name),
  }));
}

function readRow<C extends Columns>(
  place: Place,
  cells: Readonly<Record<string, string>>,
  fields: readonly Field[],
): Row<C> & { readonly problems: readonly Problem[] } {
  const problems: Problem[] = [];
  const values = fields.map(({ field, column, key, present }) => {
    const cell = cells[key] ?? "";
    if (cell === "") {
      if (column.whenEmpty === undefined && present) problems.push(emptyCell(place, column));
      return [field, column.whenEmpty?.value];
    }
    const value = column.read(cell);
    if (value === null) problems.push(wrongCell(place, column, cell));
    return [field, value];
  });
  const other = Object.entries(cells).filter(
    ([name, cell]) => cell !== "" && !fields.some(({ key }) => key === name),
  );
  return {
    place,
    // oxlint-disable-next-line no-unsafe-type-assertion -- each field holds what its own column read, or the row is dropped for its problems
    values: Object.fromEntries(values) as ValuesOf<C>,
    other: Object.fromEntries(other),
    problems,
  };
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

function noHeader(file: string, columns: Columns): Problem {
  return errorAt(
    { file, line: null, column: null },
    {
      code: "empty-file",
      found: "",
      expected: `a header line with ${requiredNames(columns).join(", ")}`,
      mend: "Write the column names in the first line and one row for each entry",
    },
  );
}

function headerProblems(
  table: CsvTable,
  head: Place,
  columns: Columns,
  otherNames: Readonly<Record<string, string>>,
): readonly Problem[] {
  const names = Object.values(columns).map(({ name }) => name);
  const known = new Set(names.map(key));
  const unknown = [...new Set(table.header)].filter((name) => name !== "" && !known.has(name));
  const free = names.filter((name) => !has(table, name));
  const meant = (name: string): string | null =>
    (Object.hasOwn(otherNames, name) ? otherNames[name] : undefined) ?? nearest(name, free);
  const missing = requiredNames(columns).filter((name) => !has(table, name));
  const slips = missing.map((name) => unknown.find((found) => meant(found) === name) ?? "");
  return [
    ...twice(table, head),
    ...missing.map((name, index) => missingColumn(head, name, slips[index] ?? "")),
    ...unknown
      .filter((name) => !slips.includes(name))
      .map((name) => unknownColumn(head, name, meant(name), names)),
    ...unnamed(table, head),
  ];
}

/** Columns that only `_` and case tell apart; the CSV reader saw those that are alike as written. */
function twice(table: CsvTable, head: Place): readonly Problem[] {
  const seen = new Set(table.problems.filter((p) => p.code === "column-twice").map((p) => p.found));
  return table.header
    .filter((name, index) => name !== "" && table.header.indexOf(name) !== index)
    .filter((name) => !seen.has(name) && !seen.has(name.replaceAll(" ", "_")))
    .map((name) =>
      errorAt(inColumn(head, name), {
        code: "column-twice",
        found: name,
        expected: "each column once",
        mend: "Remove or rename one of the two columns",
      }),
    );
}

function missingColumn(head: Place, name: string, slip: string): Problem {
  return errorAt(inColumn(head, name), {
    code: "missing-column",
    found: slip,
    expected: `a column named ${name}`,
    mend: slip === "" ? `Add the column ${name}` : `Rename the column ${slip} to ${name}`,
  });
}

function unknownColumn(
  head: Place,
  found: string,
  meant: string | null,
  names: readonly string[],
): Problem {
  return warningAt(inColumn(head, found), {
    code: "unknown-column",
    found,
    expected: `one of ${names.join(", ")}`,
    mend:
      meant === null
        ? "Nothing needs to be done if it is a remark: it is not used in the estimate"
        : mendName(meant, [meant], "leave it if it is a remark: it is not used in the estimate"),
  });
}

function unnamed(table: CsvTable, head: Place): readonly Problem[] {
  const row = table.rows.find(({ cells }) => (cells[""] ?? "") !== "");
  if (row === undefined) return [];
  return [
    warningAt(
      { ...head, line: row.line },
      {
        code: "unnamed-column",
        found: row.cells[""] ?? "",
        expected: "a name above every column that is filled",
        mend: "Name the column in the header, or remove the cell",
      },
    ),
  ];
}
