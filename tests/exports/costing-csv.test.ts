import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import type { Estimate, EstimateInput } from "../../src/estimate-data.ts";
import { costingCsv } from "../../src/exports/costing-csv.ts";
import { recompute } from "../../src/figure.ts";
import { figureOf } from "../../src/pricing/figure-record.ts";
import { Amount } from "../../src/money.ts";
import type { Place } from "../../src/problem.ts";
import { demoInput } from "../helpers/demo.ts";
import { estimated, SMALL } from "../helpers/job.ts";
import { headerOf, rowsOf } from "../helpers/rows.ts";

/** The text of a cell as a person finds it: file, line and column. */
function cellAt({ job, tables }: EstimateInput, { file, line, column }: Place): string | null {
  const text = [...job, ...tables].find(({ name }) => name === file)?.text;
  if (text === undefined || line === null || column === null) return null;
  if (!file.endsWith(".csv")) return text.split(/\r?\n/)[line - 1] ?? null;
  const rows: { record: Record<string, string>; info: { lines: number } }[] = parse(text, {
    columns: true,
    info: true,
    bom: true,
    trim: true,
  });
  return rows.find(({ info }) => info.lines === line)?.record[column] ?? null;
}

/** Whether a text says a number: as it stands, or metres in cm or mm. */
function says(text: string, value: Amount): boolean {
  const numbers = [...text.matchAll(/\d+(?:\.\d+)?/g)].map(([number]) => new Amount(number));
  return numbers.some((number) => [1, 100, 1000].some((scale) => number.eq(value.times(scale))));
}

function cellFigures({
  figures,
}: Estimate): readonly { id: string; value: string; place: Place }[] {
  return figures.flatMap(({ id, value, origin }) =>
    origin.kind === "given" && origin.source.kind === "cell"
      ? [{ id, value, place: origin.source.place }]
      : [],
  );
}

describe.each([
  ["a small job", async () => SMALL, 30],
  ["the demo", demoInput, 100],
] as const)("costing.csv of %s", async (_, make, floor) => {
  const input = await make();
  const estimate = estimated(input);
  const csv = costingCsv(estimate);
  const rows = rowsOf(csv);

  it("has every figure once, with what it is made from above it", () => {
    expect(headerOf(csv)).toBe("figure,label,value,unit,origin,formula,source,note,low,high");
    expect(rows.map(({ figure }) => figure)).toEqual(estimate.figures.map(({ id }) => id));
    expect(new Set(rows.map(({ figure }) => figure)).size).toBe(rows.length);
    const above = new Set<string>();
    for (const { id, origin } of estimate.figures) {
      const inputs = origin.kind === "derived" ? origin.inputs : [];
      expect(inputs.filter((one) => !above.has(one))).toEqual([]);
      above.add(id);
    }
  });

  it("gives each figure a formula or a source, and never both", () => {
    for (const { origin, formula, source } of rows) {
      expect(formula === "").toBe(origin === "given");
      expect(source === "").toBe(origin === "derived");
    }
  });

  it("writes what was read as it was read, and what follows to 15 digits", () => {
    const shortened = rows.filter(({ value = "", origin = "" }, index) => {
      const exact = estimate.figures[index]?.value ?? "";
      expect(value).toMatch(/^-?\d+(\.\d+)?$/);
      // Half a unit of the fifteenth digit, at the worst after a leading 1.
      const off = new Amount(value).minus(exact).abs();
      expect(off.lte(new Amount(exact).abs().times(origin === "given" ? 0 : "5e-15"))).toBe(true);
      return value !== exact;
    });
    expect(shortened.length).toBeGreaterThan(10);
    const longest = rows.map(({ value = "", origin }) =>
      origin === "given" ? 0 : value.replace(/^-?0*\.?0*|\./g, "").length,
    );
    expect(Math.max(...longest)).toBeLessThanOrEqual(15);
  });

  it("says how far a given figure may lie off, where its row does", () => {
    const told = rows.filter(({ low }) => low !== "");
    expect(told.length).toBeGreaterThan(0);
    for (const { figure, origin, low, value, high } of told) {
      expect([figure, origin]).toEqual([figure, "given"]);
      expect(Number(low)).toBeLessThanOrEqual(Number(value));
      expect(Number(value)).toBeLessThanOrEqual(Number(high));
    }
    const spread = estimate.figures.filter((one) => one.spread !== undefined);
    expect(told.map(({ figure }) => figure)).toEqual(spread.map(({ id }) => id));
  });

  it("says units in the currency's code and in signs that people read", () => {
    const unitOf = (id: string): unknown => rows.find(({ figure }) => figure === id)?.["unit"];
    expect([unitOf("quote.net"), unitOf("rule.tax"), unitOf("rate.bench")]).toEqual([
      "EUR",
      "%",
      "EUR/h",
    ]);
    expect(rows.filter(({ unit }) => unit?.includes("currency"))).toEqual([]);
  });

  it("agrees with the whole graph worked out anew", () => {
    const again = recompute(estimate.figures.map(figureOf), new Map());
    for (const { id, value } of estimate.figures) expect(again.get(id)?.eq(value)).toBe(true);
  });

  it("names cells in which the value stands", () => {
    const cells = cellFigures(estimate).filter(({ id }) => id !== "money.unit");
    expect(cells.length).toBeGreaterThan(floor);
    const wrong = cells.filter(({ value, place }) => {
      const text = cellAt(input, place);
      return text === null || !says(text, new Amount(value));
    });
    expect(wrong).toEqual([]);
  });

  it("names the cell of the currency for its smallest unit", () => {
    const unit = cellFigures(estimate).find(({ id }) => id === "money.unit");
    expect(unit && cellAt(input, unit.place)).toBe(estimate.currency.code);
  });
});
