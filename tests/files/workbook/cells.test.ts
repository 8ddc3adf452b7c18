import { describe, expect, it } from "vitest";
import { decodeWorkbook } from "../../../src/files/workbook/list.ts";
import { dayText, formatOf, numberText } from "../../../src/files/workbook/formats.ts";
import { columnLetters } from "../../../src/files/workbook/sheet.ts";
import { readRecords } from "../../../src/csv.ts";
import type { SourceText } from "../../../src/job/types.ts";
import { sheetOf, workbook } from "./writer.ts";
import type { Cell } from "./writer.ts";

const HEAD = ["part", "qty", "material", "thickness", "note"];

function listOf(bytes: Uint8Array): SourceText {
  const { value, problems } = decodeWorkbook("parts.xlsx", bytes);
  if (value === null) throw new Error(JSON.stringify(problems));
  return value;
}

/** What a cell of the column `thickness` says, with the codes of what is wrong with it. */
function said(cell: Cell, format: string | number = 0): readonly [string, ...string[]] {
  const rows = [HEAD, ["a", 1, "MDF", cell]];
  const list = listOf(workbook({ sheets: [{ name: "P", rows }], formats: [0, format] }));
  const [, row] = readRecords(list.name, list.text).records;
  return [row?.cells[3] ?? "", ...(list.problems ?? []).map(({ code }) => code)];
}

describe("a cell of a workbook says what the person sees", () => {
  it.each<readonly [string, Cell, string]>([
    ["a whole number", 3, "3"],
    ["a decimal", 3.2, "3.2"],
    // IEEE 754: 0.1 + 0.2 is 0.30000000000000004.
    ["the dust of binary numbers", 0.1 + 0.2, "0.3"],
    ["the dust of single precision", Math.fround(3.2), "3.2"],
    ["what is almost a half", 0.5000001, "0.5"],
    ["a number with all its decimals", 3.175, "3.175"],
    ["an exponent", { xml: "<v>1.25E-1</v>" }, "0.125"],
    ["a number below zero", -4, "-4"],
    ["a number stored as text", "3.2", "3.2"],
    ["a decimal comma stored as text", "3,2 mm", "3,2 mm"],
    ["a fraction stored as text", "1/8 in", "1/8 in"],
    ["a text with blanks and line breaks", "  MDF\n(grey)  ", "MDF (grey)"],
    ["quotes and commas", 'say "3", or 4', 'say "3", or 4'],
    ["signs that XML has names for", "a<b>&c", "a<b>&c"],
    ["yes", true, "TRUE"],
    ["no", false, "FALSE"],
    ["nothing", null, ""],
    ["a style and nothing in it", { xml: "" }, ""],
    ["a formula's number", { xml: "<f>1.5*2</f><v>3</v>" }, "3"],
    ["a formula's text", { attr: 't="str"', xml: '<f>"3 "&amp;"mm"</f><v>3 mm</v>' }, "3 mm"],
    ["a formula's empty text", { attr: 't="str"', xml: '<f>""</f><v></v>' }, ""],
    ["an inline text", { attr: 't="inlineStr"', xml: "<is><t>3 mm</t></is>" }, "3 mm"],
    [
      "a text of several looks, without its reading",
      {
        attr: 't="inlineStr"',
        xml: "<is><r><t>3</t></r><rPh><t>san</t></rPh><r><t> mm</t></r></is>",
      },
      "3 mm",
    ],
    // ECMA-376, part 1, 22.9.2.19.
    ["an escaped character", { attr: 't="str"', xml: "<v>3_x0009_mm</v>" }, "3 mm"],
  ])("%s", (_, cell, text) => {
    expect(said(cell)).toEqual([text]);
  });

  it.each<readonly [string, Cell, string | number, readonly string[]]>([
    ["an error", { attr: 't="e"', xml: "<f>B9</f><v>#REF!</v>" }, 0, ["#REF!", "workbook-error"]],
    ["a formula without a value", { xml: "<f>1+2</f>" }, 0, ["", "workbook-not-worked-out"]],
    ["one with an empty value", { xml: "<f>1+2</f><v/>" }, 0, ["", "workbook-not-worked-out"]],
    // 1/8 typed in 2026: 8 January is the 46030th day, counted by python's datetime.
    ["a day", { attr: 's="1"', xml: "<v>46030</v>" }, 14, ["2026-01-08", "workbook-day"]],
    [
      "a day of a format of one's own",
      { attr: 's="1"', xml: "<v>46030</v>" },
      "d. mmm",
      ["2026-01-08", "workbook-day"],
    ],
    [
      "a day in words",
      { attr: 't="d"', xml: "<v>2026-01-08T00:00:00</v>" },
      0,
      ["2026-01-08", "workbook-day"],
    ],
  ])("%s is refused", (_, cell, format, expected) => {
    expect(said(cell, format)).toEqual(expected);
  });

  it.each<readonly [string | number, number, string]>([
    // Formats with numbers: ECMA-376, part 1, 18.8.30.
    [2, 3.175, "3.175"],
    [9, 0.5, "50%"],
    [12, 0.125, "1/8"],
    [13, 1.5, "1 1/2"],
    ["0.0", 3.175, "3.175"],
    ['0.0" mm"', 3, "3 mm"],
    ['0.0\\"', 3, '3 "'],
    ["# ?/?", 1 / 3, "1/3"],
    ["# ?/?", 2, "2"],
    ["# ?/?", Math.PI, "3.141593"],
    ['#,##0" cm";[Red]-0', 30, "30 cm"],
    ['0" pcs"', 4, "4"],
    ['[$€-407] #,##0.00;@" d"', 12, "12"],
  ])("format %s shows %d as %s", (format, value, text) => {
    expect(said({ attr: 's="1"', xml: `<v>${value}</v>` }, format)).toEqual([text]);
  });

  it("tells days from numbers by the signs of the format", () => {
    const days = ["yyyy-mm-dd", "[h]:mm", "d/m/yy;@", '"on" d.m.', "[$-409]mmm d", "[ss]"];
    const numbers = ["General", "0.00", '"days" 0', "0.00E+00", "[Red]0", "\\d0", "_-* #,##0_-"];
    expect(days.filter((code) => formatOf(code).kind !== "day")).toEqual([]);
    expect(numbers.filter((code) => formatOf(code).kind === "day")).toEqual([]);
  });

  it("counts days from 1900 or 1904", () => {
    // ECMA-376, part 1, 18.17.4.1: 1 March 1900 is 61; 1 January 1904 is 0 of the other system.
    expect([dayText(61, false), dayText(0, true), dayText(1462, false)]).toEqual([
      "1900-03-01",
      "1904-01-01",
      "1904-01-01",
    ]);
    expect(dayText(1e12, false)).toBe("1000000000000");
    expect(numberText(1 / 7, formatOf("?/?"))).toBe("1/7");
  });

  it("calls columns by their letters", () => {
    // ECMA-376, part 1, 18.3.1: XFD is the last, 16384th.
    expect([1, 26, 27, 52, 53, 702, 703, 16_384].map(columnLetters)).toEqual([
      "A",
      "Z",
      "AA",
      "AZ",
      "BA",
      "ZZ",
      "AAA",
      "XFD",
    ]);
  });
});

describe("rows of a workbook", () => {
  it("keep their numbers, past empty ones and in any order", () => {
    const list = listOf(sheetOf(null, HEAD, null, ["a", 1], [], ["b", 2]));
    const { records } = readRecords(list.name, list.text);
    expect(records.map(({ line, cells }) => [line, cells[0]])).toEqual([
      [2, "part"],
      [4, "a"],
      [6, "b"],
    ]);
  });

  it("are counted where neither row nor cell says where it is", () => {
    const xml =
      '<row><c t="str"><v>part</v></c><c t="str"><v>qty</v></c></row><row/><row><c><v>7</v></c></row>';
    const list = listOf(workbook({ sheets: [{ name: "P", rows: [], xml }] }));
    expect(list.text).toBe('"part","qty"\n\n"7"\n');
  });
});
