import { columnName, readRecords } from "../csv.ts";
import type { CsvTable } from "../csv.ts";
import { errorAt, inColumn, lineWord, warningAt } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import { mendName, nearest } from "../names.ts";
import type { SourceText } from "./types.ts";

/** The first line of a table against the columns that it should have. */

export interface ColumnName {
  /** As documented; `_` and blank are the same in a header. */
  readonly name: string;
  /** Whether it may be left out. */
  readonly optional: boolean;
}

export interface HeaderRead {
  /** With each misspelt column that must be there under its right name: its cells can be judged. */
  readonly table: CsvTable;
  /** Known columns that are not there, with what is probably a slip for it, or an empty text. */
  readonly absent: ReadonlyMap<string, string>;
  readonly problems: readonly Problem[];
}

/** `corner_radius` is `corner radius`. */
export function columnKey(name: string): string {
  return columnName(name.replaceAll("_", " "));
}

/** @param otherNames what people call a column, by that name: only used to suggest the right one. */
export function readHeader(
  table: CsvTable,
  head: Place,
  columns: readonly ColumnName[],
  otherNames: Readonly<Record<string, string>>,
): HeaderRead {
  const known = new Set(columns.map(({ name }) => columnKey(name)));
  const unknown = [...new Set(table.header)].filter((name) => name !== "" && !known.has(name));
  const free = columns.filter(({ name }) => !table.header.includes(columnKey(name)));
  const meant = (found: string): string | null =>
    (Object.hasOwn(otherNames, found) ? otherNames[found] : undefined) ??
    nearest(
      found,
      free.map(({ name }) => name),
    );
  const absent = new Map(
    free.map(({ name }) => [name, unknown.find((found) => meant(found) === name) ?? ""]),
  );
  const missing = free.filter(({ optional }) => !optional).map(({ name }) => name);
  const slips = new Map(missing.map((name) => [absent.get(name) ?? "", columnKey(name)]));
  slips.delete("");
  const names = columns.map(({ name }) => name);
  return {
    table: renamed(table, slips),
    absent,
    problems: [
      ...twice(table, head),
      ...missing.map((name) => missingColumn(head, name, absent.get(name) ?? "")),
      ...unknown
        .filter((name) => !slips.has(name))
        .map((name) => unknownColumn(head, name, meant(name), names)),
      ...unnamed(table, head),
    ],
  };
}

/** A first line that is no header: that stands further down, is parted oddly, or is not there. */
export function headerElsewhere(
  source: SourceText,
  table: CsvTable,
  columns: readonly ColumnName[],
  otherNames: Readonly<Record<string, string>>,
): Problem | null {
  const known = new Set([
    ...columns.map(({ name }) => columnKey(name)),
    ...Object.keys(otherNames),
  ]);
  const hits = (cells: readonly string[]): number =>
    cells.filter((cell) => known.has(columnKey(cell))).length;
  if (hits(table.header) > 0) return null;
  const [head, ...below] = readRecords(source.name, source.text).records;
  if (head === undefined) return null;
  const place: Place = { file: source.name, line: head.line, column: null };
  const found = head.cells.filter((cell) => cell !== "").join(", ");
  const real = below.slice(0, MOST_ABOVE).find(({ cells }) => hits(cells) >= 2);
  if (real !== undefined) return notFirst(place, found, real.line);
  if (hits(found.split(/[|:]|\s{2,}/)) >= 2) return strangeSeparator(place, found);
  const needed = columns.filter(({ optional }) => !optional).map(({ name }) => name);
  const slips = needed.filter((name) => nearest(name, table.header) !== null);
  return slips.length * 2 < needed.length ? noHeader(place, found, needed) : null;
}

/** @param found of the first line, nothing of an empty file. */
export function noHeader(place: Place, found: string, needed: readonly string[]): Problem {
  return errorAt(place, {
    code: found === "" ? "empty-file" : "no-header",
    found,
    expected: `the column names, at least ${needed.join(", ")}`,
    mend: "Write the column names in the first line and one row for each entry",
  });
}

/** A missing column that is needed, said once for all rows. */
export function missingColumn(head: Place, name: string, slip: string): Problem {
  return errorAt(inColumn(head, name), {
    code: "missing-column",
    found: slip,
    expected: `a column named ${name}`,
    mend: slip === "" ? `Add the column ${name}` : `Rename the column ${slip} to ${name}`,
  });
}

/** A title, an address and a date above a list are no more than this. */
const MOST_ABOVE = 10;

function notFirst(place: Place, found: string, line: number): Problem {
  return errorAt(place, {
    code: "header-not-first",
    found,
    expected: `the column names, which stand in ${lineWord(place.file)} ${line}`,
    mend: `Remove what stands above ${lineWord(place.file)} ${line}`,
  });
}

function strangeSeparator(place: Place, found: string): Problem {
  return errorAt(place, {
    code: "unknown-separator",
    found,
    expected: "column names with commas, semicolons or tabs between them",
    mend: "Save the list as CSV with commas",
  });
}

function renamed(table: CsvTable, slips: ReadonlyMap<string, string>): CsvTable {
  if (slips.size === 0) return table;
  const right = (name: string): string => slips.get(name) ?? name;
  const rows = table.rows.map(({ line, cells }) => ({
    line,
    cells: Object.fromEntries(Object.entries(cells).map(([name, cell]) => [right(name), cell])),
  }));
  return { ...table, header: table.header.map(right), rows };
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
