import { describe, expect, it } from "vitest";
import { readTables } from "../../src/job/tables.ts";
import { sentence } from "../../src/problem.ts";
import { TABLES, tables, text } from "./texts.ts";

const D = "2026-01-01,test";

/** What is said of a job's own row beside the built-in set and one row more. */
function notes(file: string, row: string, added: string): readonly string[] {
  const [header = ""] = TABLES[file] ?? [];
  const own = text(`tables/${file}`, [header, row]);
  const { value, problems } = readTables(tables({ [file]: [added] }), [own], null);
  expect(value).not.toBeNull();
  return problems.map(sentence);
}

describe("a row of the job that is new", () => {
  const ply = `ply-4-600x400,birch plywood,5,sheet,600,400,12.50,5,3,,${D}`;

  it("is named when its id is a slip away from a known one", () => {
    const [note, ...more] = notes("hardware.csv", `m5-blot,B,fixing,M5,25,4.10,5,,${D}`, "");
    expect(more).toEqual([]);
    expect(note).toBe(
      'tables/hardware.csv, line 2, id: read "m5-blot", expected an id of price-tables/hardware.csv, or one that is unlike all of them. Write "m5-bolt" if that row is to be replaced; as it stands, both are on offer.',
    );
  });

  it.each([
    ["replaces one", "hardware.csv", `M5-bolt,B,fixing,M5,25,4.10,5,,${D}`, ""],
    ["has another number", "hardware.csv", `m6-bolt,B,fixing,M6,25,4.10,5,,${D}`, ""],
    ["is far from all", "paints.csv", `heather,H,400,,2,,50,9.40,${D}`, ""],
    [
      "is another size",
      "sheets.csv",
      `ply-4-600x300,birch plywood,5,sheet,600,300,9,5,3,,${D}`,
      ply,
    ],
  ])("is passed over when it %s", (_, file, row, added) => {
    expect(notes(file, row, added)).toEqual([]);
  });

  it("is named when it is the same sheet under a number that slipped", () => {
    const row = `ply-4-600x40,birch plywood,5,sheet,600,400,9,5,3,,${D}`;
    expect(notes("sheets.csv", row, ply)[0]).toContain('Write "ply-4-600x400"');
  });
});
