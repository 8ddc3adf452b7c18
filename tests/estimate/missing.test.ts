import { describe, expect, it } from "vitest";
import { Amount } from "../../src/money.ts";
import { isError } from "../../src/problem.ts";
import { estimated, readWorked, run, TABLES, toolBoard } from "../worked/tool-board.ts";

/** Without a row that an estimate stands on there is a problem, or a dearer way: never a gift. */

const TOTAL = totalOf(estimated(toolBoard()).quote);

function totalOf(quote: readonly { readonly kind: string; readonly amount: string }[]): Amount {
  return new Amount(quote.find(({ kind }) => kind === "total")?.amount ?? NaN);
}

interface Row {
  readonly file: string;
  readonly line: number;
  /** Its first two cells. */
  readonly what: string;
}

const ROWS: readonly Row[] = TABLES.flatMap((table) => {
  const file = `tables/${table}`;
  const lines = readWorked(file).trim().split("\n");
  return lines.slice(1).map((text, index) => ({
    file,
    line: index + 2,
    what: text.split(",").slice(0, 2).join(" "),
  }));
});

function without({ file, line }: Row): string {
  const lines = readWorked(file).trim().split("\n");
  return lines.filter((_, index) => index !== line - 1).join("\n");
}

/** Sizes that another size stands in for, and steps of a recipe that has others. */
const REPLACED = new Set([
  "ply-9-1200x800",
  "ply-9-500x300",
  "acrylic-3-150x100",
  "acrylic-3-300x200",
  "oak-strip",
]);
const STEPS = new Set(["signal-red prime", "signal-red colour", "signal-red clear"]);
/** The job names its machine itself. */
const SAID_BY_JOB = "machine laser";

const NEEDED = ROWS.filter(
  ({ what }) => what !== SAID_BY_JOB && !REPLACED.has(what.split(" ")[0] ?? "") && !STEPS.has(what),
);

describe("an estimate without a row that it needs", () => {
  it("is looked at for many rows of every table", () => {
    expect(NEEDED.length).toBeGreaterThanOrEqual(34);
    expect(new Set(NEEDED.map(({ file }) => file)).size).toBe(TABLES.length - 1);
  });

  it.each(NEEDED)("is refused without $what of $file", (row) => {
    const { value, problems } = run(toolBoard({ [row.file]: without(row) }));
    expect(value === null).toBe(true);
    expect(problems.some(isError)).toBe(true);
  });

  it.each(ROWS.filter(({ what }) => REPLACED.has(what.split(" ")[0] ?? "")))(
    "costs no less without $what of $file, line $line",
    (row) => {
      const { quote } = estimated(toolBoard({ [row.file]: without(row) }));
      expect(totalOf(quote).gte(TOTAL)).toBe(true);
    },
  );

  it.each([
    ["wanted_days", ["usual_days", "rush_percent_per_day"]],
    ["repeat_discount_percent", ["repeat_discount_most_percent"]],
  ])("is refused with %s where %j say nothing", (name, others) => {
    const settings = `${readWorked("tables/settings.csv").trim()}\n${name},2,2026-01-01,test`;
    const { value, problems } = run(toolBoard({ "tables/settings.csv": settings }));
    expect(value).toBeNull();
    expect(problems.map(({ code, column }) => [code, column])).toEqual(
      others.map((other) => ["missing-setting", other]),
    );
  });

  it("is refused without a whole table, each named", () => {
    const silent = TABLES.filter((table) => {
      const file = `tables/${table}`;
      const [head = ""] = readWorked(file).split("\n");
      const { value, problems } = run(toolBoard({ [file]: head }));
      return value !== null || !problems.some(isError);
    });
    expect(silent).toEqual([]);
  });

  it("is refused without all steps of a finish, and without the last size of a section", () => {
    const finishes = readWorked("tables/finishes.csv").replace(/^signal-red.*\n/gm, "");
    const bars = readWorked("tables/stock-lengths.csv").replace(/^oak-strip.*\n/gm, "");
    for (const tables of [
      { "tables/finishes.csv": finishes },
      { "tables/stock-lengths.csv": bars },
    ]) {
      const { value, problems } = run(toolBoard(tables));
      expect(value === null).toBe(true);
      expect(problems.some(isError)).toBe(true);
    }
  });

  it("is refused with an empty cell where a price should stand", () => {
    const empty = [
      ["sheets.csv", "14.80"],
      ["paints.csv", "4.10"],
      ["hardware.csv", "3.10"],
      ["stock-lengths.csv", "4.20"],
      ["rates.csv", "30.00"],
      ["machines.csv", "1.25"],
      ["settings.csv", "18.00"],
    ].map(([table = "", price = ""]) => {
      const file = `tables/${table}`;
      return run(toolBoard({ [file]: readWorked(file).replace(price, "") })).value;
    });
    expect(empty).toEqual(Array.from({ length: 7 }, () => null));
  });
});
