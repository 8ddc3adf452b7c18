import { describe, expect, it } from "vitest";
import { decodeText } from "../../src/files/decode.ts";
import { sentence } from "../../src/problem.ts";

function named(page: string | null, layer: readonly number[]): Buffer {
  const header = page === null ? "" : `9\r\n$DWGCODEPAGE\r\n  3\r\n${page}\r\n`;
  return Buffer.concat([Buffer.from(`${header}8\r\n`), Buffer.from(layer), Buffer.from("\r\n")]);
}

describe("the letters of a DXF", () => {
  it.each([
    // The bytes of the code pages' published tables.
    ["ANSI_1252", [0x47, 0x72, 0xf6, 0xdf, 0x65], "Größe"],
    ["ANSI_1252", [0x80, 0x93], "\u20ac\u201c"],
    ["ANSI_1251", [0xd0, 0xe5, 0xe7], "Рез"],
    ["ansi_1250", [0xf8, 0x65, 0x7a], "řez"],
    ["ANSI_1253", [0xcb, 0xef], "Λο"],
    ["ANSI_932", [0x90, 0xd8, 0x92, 0x66], "切断"],
    ["ANSI_936", [0xc7, 0xd0, 0xb8, 0xee], "切割"],
  ])("are read by the code page %s", (page, bytes, layer) => {
    const { value, problems } = decodeText("a.dxf", named(page, bytes));
    expect(problems).toEqual([]);
    expect(value?.text.split("\r\n").at(-2)).toBe(layer);
  });

  it("are UTF-8 where they can be, whatever page is named", () => {
    const { value } = decodeText("a.dxf", named("ANSI_1252", [...Buffer.from("Größe")]));
    expect(value?.text).toContain("Größe");
  });

  it("are taken as western ones, with a warning, where no known page is named", () => {
    for (const page of [null, "dos850"]) {
      const { value, problems } = decodeText("a.DXF", named(page, [0x47, 0x72, 0xf6]));
      expect(value?.text).toContain("Grö");
      expect(problems.map(sentence)).toEqual([
        `a.DXF, $DWGCODEPAGE: read "${page ?? "letters that are not ASCII, and no $DWGCODEPAGE"}", expected a code page that is known; the letters are read as western ones (ANSI_1252). Check the names of the layers, or save the drawing as a DXF of 2007 or later.`,
      ]);
    }
  });
});

describe("what only has the name of a drawing", () => {
  it.each([
    ["a.dxf", "\u001f\u008b\b", "a compressed file (gzip)"],
    ["a.svg", "\u0089PNG\r\n", "a picture (PNG)"],
    ["a.dxf", "%PDF-1.7\n", "a PDF"],
    ["a.dxf", "PK\u0003\u0004", "a compressed file (zip)"],
    ["a.dxf", "XXXXXX Binary DXF\r\n\u001a\0\0", "a binary DXF"],
  ])("%s is refused as what it is", (name, start, found) => {
    const { value, problems } = decodeText(name, Buffer.from(start, "latin1"));
    expect(value).toBeNull();
    expect(problems).toMatchObject([{ found, severity: "error", line: null }]);
  });
});
