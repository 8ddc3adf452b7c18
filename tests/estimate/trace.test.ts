import { describe, expect, it } from "vitest";
import type { Estimate } from "../../src/estimate-data.ts";
import { Amount } from "../../src/money.ts";
import type { Place } from "../../src/problem.ts";
import { estimated, readWorked, TABLES, toolBoard } from "../worked/tool-board.ts";

/**
 * Whether a figure's reasons are the whole truth: every number of every table is raised by a tenth,
 * one at a time, and only figures may change whose trace names that row.
 */

interface Cell {
  /** `tables/rates.csv` */
  readonly file: string;
  readonly line: number;
  readonly column: string;
  readonly text: string;
}

const BEFORE = estimated(toolBoard());
/** What ties rows to each other: another number there is another row. */
const KEYS = new Set(["thickness_mm"]);
/** Whole numbers go up by one. */
const WHOLE = new Set(["passes", "coats", "pack_size"]);
/** Numbers that a later issue's spread of outcomes will use, not the likely price. */
const SPREAD = /_low|_high/;

function cellsOf(file: string): readonly Cell[] {
  const [head = "", ...rows] = readWorked(file).trim().split("\n");
  const columns = head.split(",");
  return rows.flatMap((row, index) =>
    row.split(",").flatMap((text, at) => {
      const column = columns[at] ?? "";
      const isNumber = /^\d+(\.\d+)?$/.test(text) && !KEYS.has(column);
      return isNumber ? [{ file, line: index + 2, column, text }] : [];
    }),
  );
}

/** The table with one number raised. */
function raised({ file, line, column, text }: Cell, table = readWorked(file)): string {
  const lines = table.trim().split("\n");
  const columns = (lines[0] ?? "").split(",");
  const cells = (lines[line - 1] ?? "").split(",");
  const value = WHOLE.has(column) ? new Amount(text).plus(1) : new Amount(text).times("1.1");
  const payable = column.endsWith("price") ? value.toDecimalPlaces(2) : value;
  cells[columns.indexOf(column)] = payable.toString();
  lines[line - 1] = cells.join(",");
  return lines.join("\n");
}

function changed(before: Estimate, after: Estimate): readonly string[] {
  const [was, is] = [before, after].map(
    ({ figures }) => new Map(figures.map(({ id, value }) => [id, value])),
  );
  const ids = new Set([...(was?.keys() ?? []), ...(is?.keys() ?? [])]);
  // Lines of the quote are numbered: where there is one more or less, their numbers mean others.
  const sameLines = before.quote.length === after.quote.length;
  return [...ids].filter(
    (id) => was?.get(id) !== is?.get(id) && (sameLines || !id.startsWith("quote.line-")),
  );
}

/** For every figure the rows that its trace ends at: `tables/rates.csv:2`. */
function tracesOf({ figures }: Estimate): ReadonlyMap<string, ReadonlySet<string>> {
  const traces = new Map<string, ReadonlySet<string>>();
  for (const { id, origin } of figures) {
    const rows =
      origin.kind === "derived"
        ? origin.inputs.flatMap((input) => [...(traces.get(input) ?? [])])
        : placesOf(origin.source).map(({ file, line }) => `${file}:${line}`);
    traces.set(id, new Set(rows));
  }
  return traces;
}

type Given = Extract<Estimate["figures"][number]["origin"], { kind: "given" }>;

function placesOf(source: Given["source"]): readonly Place[] {
  return source.kind === "computed" ? source.from : [source.place];
}

const TRACES = tracesOf(BEFORE);
const NAMED = new Set([...TRACES.values()].flatMap((rows) => [...rows]));

const CELLS = TABLES.flatMap((table) => cellsOf(`tables/${table}`));
const LIKELY = CELLS.filter(({ column }) => !SPREAD.test(column));

const MOVED = LIKELY.map((cell) => {
  const after = estimated(toolBoard({ [cell.file]: raised(cell) }));
  return { cell, row: `${cell.file}:${cell.line}`, after, changed: changed(BEFORE, after) };
});

function isComputed({ origin }: Estimate["figures"][number]): boolean {
  return origin.kind === "given" && origin.source.kind === "computed";
}

describe("the trace of every figure, when a number of a table is raised by a tenth", () => {
  it("looks at every table and at many numbers", () => {
    const files = new Set(CELLS.map(({ file }) => file));
    expect([...files].toSorted()).toEqual(TABLES.map((table) => `tables/${table}`).toSorted());
    expect(LIKELY.length).toBeGreaterThan(100);
    expect(MOVED.filter(({ changed }) => changed.length > 0).length).toBeGreaterThan(60);
  });

  it("names the row of every number that moves it", () => {
    const strays = MOVED.flatMap(({ cell, row, after, changed }) => {
      const now = tracesOf(after);
      return changed
        .filter((id) => !TRACES.get(id)?.has(row) && !now.get(id)?.has(row))
        .map((id) => `${id} by ${row} ${cell.column}`);
    });
    expect(strays).toEqual([]);
  });

  it("names no row that moves nothing: each row named moves a figure", () => {
    const moving = new Set(MOVED.filter(({ changed }) => changed.length > 0).map(({ row }) => row));
    const withNumbers = new Set(CELLS.map(({ file, line }) => `${file}:${line}`));
    const used = [...NAMED].filter((row) => withNumbers.has(row));
    expect(used.length).toBeGreaterThan(35);
    expect(used.filter((row) => !moving.has(row) && !NOT_CHOSEN.has(row))).toEqual([]);
  });

  /** Sizes that were offered and not taken: they decide, but a dearer one still is not taken. */
  const NOT_CHOSEN = new Set([
    "tables/sheets.csv:3",
    "tables/sheets.csv:4",
    "tables/sheets.csv:6",
    "tables/stock-lengths.csv:3",
  ]);

  it("moves the very figures that a price, rate or percentage stands for, and the total", () => {
    const direct = MOVED.filter(({ cell }) => /price|rate|per_hour|^value$/.test(cell.column));
    const used = direct.filter(({ row }) => NAMED.has(row) && !NOT_CHOSEN.has(row));
    expect(used.length).toBeGreaterThan(20);
    for (const { cell, row, changed } of used) {
      const leaves = BEFORE.figures.filter(
        ({ origin }) =>
          origin.kind === "given" &&
          origin.source.kind === "cell" &&
          `${origin.source.place.file}:${origin.source.place.line}` === row &&
          origin.source.place.column === cell.column,
      );
      expect(leaves.length, `${row} ${cell.column}`).toBeGreaterThan(0);
      expect(changed).toEqual(expect.arrayContaining(leaves.map(({ id }) => id)));
    }
  });

  it("leaves everything as it was for the ends of spreads", () => {
    const ends = CELLS.filter(({ column }) => /_high/.test(column));
    expect(ends.length).toBeGreaterThan(10);
    const tables: Record<string, string> = {};
    for (const end of ends) tables[end.file] = raised(end, tables[end.file]);
    expect(changed(BEFORE, estimated(toolBoard(tables)))).toEqual([]);
  });

  it("takes another size when that becomes the cheaper, and says so at the count", () => {
    const text = readWorked("tables/sheets.csv").replace(",25.00,5,3", ",2.50,5,3");
    const after = estimated(toolBoard({ "tables/sheets.csv": text }));
    const now = tracesOf(after);
    const ids = changed(BEFORE, after);
    expect(ids).toContain("sheet.acrylic_cast_3.count");
    // The row of the price itself is another one now; all that was counted or timed had named it.
    const computed = BEFORE.figures.filter((one) => ids.includes(one.id) && isComputed(one));
    expect(computed.length).toBeGreaterThanOrEqual(3);
    const untraced = [
      ...computed.filter(({ id }) => !TRACES.get(id)?.has(OTHER_SIZE)).map(({ id }) => id),
      ...ids
        .filter((id) => !TRACES.get(id)?.has(OTHER_SIZE) && !now.get(id)?.has(OTHER_SIZE))
        // The price of a size that comes or goes with the choice is a cell, and names that alone.
        .filter((id) => !isPriceOfSheet.test(id) || (TRACES.has(id) && now.has(id))),
    ];
    expect(untraced).toEqual([]);
  });

  const isPriceOfSheet = /^sheet\.acrylic_cast_3\..*price$/;
  const OTHER_SIZE = "tables/sheets.csv:6";
});
