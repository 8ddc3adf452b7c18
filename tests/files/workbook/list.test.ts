import { describe, expect, it } from "vitest";
import { decodeWorkbook } from "../../../src/files/workbook/list.ts";
import { readHardwareUses } from "../../../src/job/lists.ts";
import { readPartsList } from "../../../src/job/parts-list.ts";
import { sentence } from "../../../src/problem.ts";
import { sheetOf, workbook, zipped } from "./writer.ts";
import type { Cell, SheetWritten } from "./writer.ts";

const HEAD = ["part", "qty", "material", "thickness", "shape", "width", "height", "note"];

function row(name: string, more: Readonly<Record<string, Cell>> = {}): readonly Cell[] {
  const usual: Readonly<Record<string, Cell>> = {
    part: name,
    qty: 2,
    material: "MDF",
    thickness: 3,
    shape: "rectangle",
    width: 60,
    height: 40,
    ...more,
  };
  return HEAD.map((column) => usual[column] ?? null);
}

const REF: Cell = { attr: 't="e"', xml: "<f>A9</f><v>#REF!</v>" };

/** The parts that a workbook lists, and the sentences of all problems. */
function partsOf(bytes: Uint8Array): {
  readonly parts: readonly string[];
  readonly said: readonly string[];
} {
  const { value, problems } = decodeWorkbook("parts.xlsx", bytes);
  const read = value && readPartsList(value, [value]);
  return {
    parts: read?.parts.map(({ name }) => name) ?? [],
    said: [...problems, ...(read?.problems ?? [])].map(sentence),
  };
}

function partsIn(...sheets: readonly SheetWritten[]): ReturnType<typeof partsOf> {
  return partsOf(workbook({ sheets }));
}

describe("the sheet that is read", () => {
  it("is the first that is seen and has the columns, and the others are named", () => {
    const { parts, said } = partsIn(
      { name: "Old", rows: [HEAD, row("old")], state: "hidden" },
      { name: "Older", rows: [HEAD, row("older")], state: "veryHidden" },
      { name: "Cover", rows: [["Price of the stand", 12], ["a part of it"]] },
      { name: "Empty", rows: [] },
      { name: "Parts", rows: [HEAD, row("plate")] },
      { name: "Trial", rows: [HEAD, row("trial")] },
    );
    expect(parts).toEqual(["plate"]);
    expect(said).toEqual([
      'parts.xlsx: read "a sheet "Cover"", expected one sheet with the list. Nothing needs to be done if it is no part of the list: only the sheet "Parts" is read.',
      'parts.xlsx: read "a sheet "Trial"", expected one sheet with the list. Nothing needs to be done if it is no part of the list: only the sheet "Parts" is read.',
    ]);
  });

  it("is asked for its columns where none has them", () => {
    expect(partsIn({ name: "A", rows: [["hello", "there"]] }).said.join()).toMatch(
      /^parts\.xlsx, row 1: read "hello, there", expected the column names/,
    );
    expect(partsIn({ name: "A", rows: [] }).said.join()).toMatch(/^parts\.xlsx: read nothing/);
    expect(partsIn({ name: "A", rows: [HEAD, row("a")], state: "hidden" }).parts).toEqual([]);
  });

  it("begins with its columns, as a CSV does", () => {
    const { parts, said } = partsOf(sheetOf(["Stand, 12 Nov"], [], HEAD, row("plate")));
    expect(parts).toEqual([]);
    expect(said).toEqual([
      'parts.xlsx, row 1: read "Stand, 12 Nov", expected the column names, which stand in row 3. Remove what stands above row 3.',
    ]);
  });
});

describe("cells that can not be used", () => {
  it("are all named by row and column, once each, with the faults of other cells", () => {
    const { parts, said } = partsOf(
      sheetOf(
        HEAD,
        row("plate", { thickness: REF, qty: "two" }),
        null,
        row("rib", { note: REF }),
        row("foot", { width: { xml: "<f>F2*2</f>" } }),
        row("foot", { height: 40.5 }),
        [{ xml: "<f>A6</f>" }, { xml: "<f>B6</f>" }],
        row("leg", { material: REF, shape: { ...REF } }),
        ["=A1", 1, "MDF", 3, "rectangle", 60, 40],
      ),
    );
    expect(parts).toEqual(["rib", "foot", "=A1"]);
    const none = 'read "a formula without a value"';
    expect(said.map((one) => one.split(", expected")[0])).toEqual([
      `parts.xlsx, row 7, part: ${none}`,
      `parts.xlsx, row 7, qty: ${none}`,
      'parts.xlsx, row 2, qty: read "two"',
      'parts.xlsx, row 2, thickness: read "#REF!"',
      `parts.xlsx, row 5, width: ${none}`,
      'parts.xlsx, row 8, material: read "#REF!"',
      'parts.xlsx, row 8, shape: read "#REF!"',
      'parts.xlsx, row 6, part: read "foot"',
    ]);
    expect(said[3]).toContain("Correct the formula in the cell, or write the value itself.");
    expect(said[0]).toContain("Open the workbook in a spreadsheet program and save it, or write");
    expect(said[7]).toContain("a name that no other part has; row 5 has it already");
  });

  it("are merged ones, below the columns and where something depends on them", () => {
    const { parts, said } = partsIn({
      name: "P",
      rows: [
        HEAD,
        row("a", { note: "x" }),
        row("b", { material: null }),
        row("c", { material: null }),
      ],
      merged: ["C2:C4", "H2:H3", "A1:B1", "E7:F8"],
    });
    expect(parts).toEqual(["b", "c"]);
    expect(said).toEqual([
      'parts.xlsx, row 2, material: read "merged cells C2:C4", expected a cell of its own for every row and column. Undo the merging and fill in each cell.',
    ]);
  });

  it("do no harm in columns that are not used", () => {
    const head = [...HEAD, "ordered", null, "sum"];
    const { parts, said } = partsOf(sheetOf(head, [...row("a"), REF, "by Ann", REF]));
    expect(parts).toEqual(["a"]);
    expect(said.map((one) => one.split(",").slice(0, 3).join())).toEqual([
      'parts.xlsx, row 1, ordered: read "ordered"',
      'parts.xlsx, row 1, column j: read "column j"',
      'parts.xlsx, row 1, sum: read "sum"',
    ]);
  });

  it("are read in hidden rows too, and that is said", () => {
    const { parts, said } = partsIn({
      name: "P",
      rows: [HEAD, row("a"), row("b"), []],
      hiddenRows: [3, 4],
    });
    expect(parts).toEqual(["a", "b"]);
    expect(said).toEqual([
      'parts.xlsx, row 3: read "b, 2, MDF, 3, rectangle, 60, 40", expected rows that can be seen. Delete the row if it does not count: hidden rows are read like all others.',
    ]);
  });
});

describe("hidden columns", () => {
  it("are read, and named once where they are used", () => {
    const cols =
      '<cols><col min="2" max="3" hidden="1"/><col min="9" max="16384" hidden="true"/><col min="4" max="4"/></cols>';
    const { parts, said } = partsIn({ name: "P", rows: [HEAD, row("a"), row("b")], cols });
    expect(parts).toEqual(["a", "b"]);
    expect(said).toEqual(
      [
        ["qty", "B"],
        ["material", "C"],
      ].map(
        ([name, letter]) =>
          `parts.xlsx, row 1, ${name}: read "column ${letter}, which is hidden", expected columns that can be seen. Show the column and look it over, or delete it: hidden columns are read like all others.`,
      ),
    );
  });
});

describe("a list beside the parts", () => {
  it("is read by its own columns, and told as itself", () => {
    const rows = [
      ["item", "qty", "per"],
      ["m5", 1.5, "order"],
    ];
    const { value, problems } = decodeWorkbook(
      "Hardware.xlsx",
      workbook({
        sheets: [
          { name: "Cover", rows: [["Fixings", "of the stand"]] },
          { name: "H", rows: [...rows, ["m6", REF]] },
        ],
      }),
    );
    expect(problems).toEqual([]);
    const read = value && readHardwareUses(value, []);
    expect(read?.uses).toMatchObject([{ item: "m5", quantity: 1.5, per: "order" }]);
    expect(read?.problems.map(({ code, line, column }) => [code, line, column])).toEqual([
      ["workbook-sheet-not-read", null, null],
      ["workbook-error", 3, "qty"],
    ]);
    expect(decodeWorkbook("lengths.xlsx", Buffer.from("?")).problems[0]?.mend).toContain(
      "lengths.csv",
    );
  });
});

describe("a file that is no workbook to read", () => {
  const whole = sheetOf(HEAD, row("a"));
  // First bytes of a compound file: MS-CFB, 2.2.
  const compound = Buffer.from("d0cf11e0a1b11ae1", "hex");
  it.each<readonly [string, Uint8Array, string]>([
    [
      "with a password",
      Buffer.concat([compound, Buffer.from("..EncryptedPackage", "utf16le")]),
      "a workbook with a password",
    ],
    [
      "of the older kind",
      Buffer.concat([compound, Buffer.from("Workbook", "utf16le")]),
      "an older workbook (.xls)",
    ],
    [
      "OpenDocument",
      zipped({ mimetype: "", "content.xml": "" }),
      "an OpenDocument workbook (.ods)",
    ],
    [
      "binary",
      zipped({ "[Content_Types].xml": "", "xl/workbook.bin": "" }),
      "a binary workbook (.xlsb)",
    ],
    ["any zip", zipped({ "a.txt": "" }), "a compressed file (zip)"],
    ["a CSV by another name", Buffer.from("part,qty\na,1\n"), "a file of another kind"],
    ["empty", new Uint8Array(), "an empty file"],
    ["cut off", whole.slice(0, whole.length / 2), "can not be unpacked"],
    ["without its insides", zipped({ "[Content_Types].xml": "" }), "can not be unpacked"],
    [
      "of broken XML",
      workbook({ sheets: [{ name: "P", rows: [], xml: "<row>" }] }),
      "can not be unpacked",
    ],
  ])("%s", (_, bytes, found) => {
    const { value, problems } = decodeWorkbook("parts.xlsx", bytes);
    expect(value).toBeNull();
    expect(problems).toHaveLength(1);
    expect(sentence(problems[0]!)).toContain(found);
    expect(sentence(problems[0]!)).toMatch(/parts\.csv/);
  });

  it("is one that unpacks to more than a parts list can be", () => {
    const blanks = " ".repeat(65 * 1024 * 1024);
    const bytes = workbook({ sheets: [{ name: "P", rows: [], xml: blanks }] });
    expect(bytes.length).toBeLessThan(200_000);
    expect(decodeWorkbook("parts.xlsx", bytes).problems.map(({ code }) => code)).toEqual([
      "workbook-broken",
    ]);
  });
});
