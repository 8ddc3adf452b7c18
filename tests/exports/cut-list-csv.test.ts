import { describe, expect, it } from "vitest";
import { cutListCsv } from "../../src/exports/cut-list-csv.ts";
import { outputFiles } from "../../src/exports/output-files.ts";
import { parseLength } from "../../src/units.ts";
import { estimated, SMALL, withTexts } from "../helpers/job.ts";
import { headerOf, rowsOf } from "../helpers/rows.ts";

/** `1, 2, 3, 7` of `1 to 3, 7`. */
function numbersIn(ranges: string): readonly number[] {
  return ranges.split(", ").flatMap((range) => {
    const [from = Number.NaN, to = from] = range.split(" to ").map(Number);
    return Array.from({ length: to - from + 1 }, (_, index) => from + index);
  });
}

/** So many copies that they need several sheets. */
const LARGE = withTexts(SMALL, { "job.yaml": ["title: Many", "pieces: 17"] });

describe.each([
  ["a small job", SMALL, 3, 1],
  ["many pieces", LARGE, 17, 3],
] as const)("cutlist.csv of %s", (_, input, pieces, sheets) => {
  const estimate = estimated(input);
  const csv = cutListCsv(estimate);
  const rows = rowsOf(csv);
  const cut = rows.filter(({ operations }) => operations !== "saw");
  const sawn = rows.filter(({ operations }) => operations === "saw");

  it("has every copy of every part once over all rows", () => {
    expect(headerOf(csv)).toBe("stock,material,part,count,copies,size,operations,finish,note,done");
    expect(new Set(cut.map(({ stock }) => stock)).size).toBeGreaterThanOrEqual(sheets + 1);
    for (const [part, each] of [
      ["plate", 4],
      ["disc", 2],
      ["ring", 3],
      ["badge", 5],
    ] as const) {
      const copies = cut
        .filter((row) => row["part"] === part)
        .flatMap((row) => numbersIn(row["copies"] ?? ""));
      const wanted = Array.from({ length: each * pieces }, (_, index) => index + 1);
      expect(copies.toSorted((a, b) => a - b)).toEqual(wanted);
    }
  });

  it("has no cell that a spreadsheet would take for a day", () => {
    const day = /^\d{1,4}[-/.]\d{1,2}([-/.]\d{1,4})?$/;
    const cells = rows.flatMap((row) => Object.values(row));
    expect(cells.filter((cell) => day.test(cell))).toEqual([]);
    expect(cells.filter((cell) => / to \d+$/.test(cell)).length).toBeGreaterThan(2);
  });

  it("counts what it lists", () => {
    for (const { count, copies = "" } of cut) expect(Number(count)).toBe(numbersIn(copies).length);
  });

  it("names the layouts that show it", () => {
    const layouts = outputFiles(estimate).map(({ name }) => name);
    for (const { stock } of cut) {
      expect(layouts).toContain(`layouts/${stock}.svg`);
      expect(layouts).toContain(`layouts/${stock}.dxf`);
    }
  });

  it("saws every length, and no bar is cut longer than it is", () => {
    const counts = (name: string): number =>
      sawn.filter(({ part }) => part === name).reduce((sum, { count }) => sum + Number(count), 0);
    expect([counts("post"), counts("rail")]).toEqual([2 * pieces, pieces]);
    const bars = new Set(sawn.map(({ stock = "" }) => stock));
    for (const bar of bars) {
      const cuts = sawn.filter(({ stock }) => stock === bar);
      const barMm = Number(/(\d+) mm$/.exec(bar)?.[1]);
      const pieceCount = cuts.reduce((sum, { count }) => sum + Number(count), 0);
      const lengths = cuts.reduce(
        (sum, { count, size = "" }) => sum + Number(count) * (parseLength(size) ?? Number.NaN),
        0,
      );
      // 3 mm saw kerf between pieces and 10 mm trimmed off the end, as the table says.
      expect(lengths + 3 * (pieceCount - 1) + 10).toBeLessThanOrEqual(barMm);
    }
    expect(bars.size).toBe(estimate.bars.flatMap((one) => one.bars).length);
  });
});

it("says size, finish and note as the parts list has them, harmless to a spreadsheet", () => {
  const rows = rowsOf(cutListCsv(estimated(SMALL)));
  const of = (part: string): unknown => rows.find((row) => row["part"] === part);
  expect(of("plate")).toMatchObject({ count: "12", copies: "1 to 12" });
  expect(of("disc")).toMatchObject({ size: "60 x 60 mm", note: "round, both sides", finish: "" });
  expect(of("ring")).toMatchObject({ size: "50 x 50 mm", finish: "reed" });
  expect(of("badge")).toMatchObject({ size: "70 x 30 mm", note: "'=not a formula" });
});
