import * as fc from "fast-check";
import { unzipSync, strFromU8 } from "fflate";
import { SaxesParser } from "saxes";
import { describe, expect, it } from "vitest";
import { workbook } from "../../../src/exports/workbook/xlsx.ts";
import type { Sheet } from "../../../src/exports/workbook/xlsx.ts";
import { readBook } from "../../../src/files/workbook/book.ts";
import { readSheet } from "../../../src/files/workbook/sheet.ts";
import { openZip } from "../../../src/files/workbook/zip.ts";
import {
  HAS_LIBRE_OFFICE,
  OFFICE_TIMEOUT_MS,
  recalculated,
  WHERE_THERE,
} from "../../helpers/libre-office.ts";

/** A sheet with a heading and a row for each text. */
function sheetOf(texts: readonly string[]): Sheet {
  const look = { format: "General", role: "text" } as const;
  const rows = texts.map((text) => [{ kind: "text", text, look } as const]);
  return { name: "Texts", rows: [[], ...rows], numbersOnly: [] };
}

/** Names as people, and those who mean harm, write them. */
const TEXT = fc.oneof(
  fc.string({ minLength: 1, maxLength: 8 }),
  fc.string({ unit: "binary", minLength: 1, maxLength: 6 }),
  fc
    .array(
      fc.constantFrom(
        "=1+1",
        "+",
        "-",
        "@A1",
        "'",
        '"',
        "<b>",
        "&",
        "]]>",
        "_x0041_",
        " ",
        "\n",
        "\t",
        "Ø",
        "1/8",
        "1e3",
        "00",
      ),
      {
        minLength: 1,
        maxLength: 4,
      },
    )
    .map((pieces) => pieces.join("")),
);

/** The reader of lists trims and makes one line of several, and a lone half of a sign is none. */
function plain(text: string): string {
  return text
    .replace(/[\uD800-\uDFFF]/gu, "\uFFFD")
    .replace(/\s+/g, " ")
    .trim();
}

/** Control characters have no shape that could be compared where they are shown. */
function isPlain(text: string): boolean {
  return !/\p{C}|\s{2}|^\s|\s$|\r/u.test(text);
}

describe("a workbook", () => {
  // ECMA-376, part 1, 18.8: the parts of a workbook, each of them XML.
  it("is well-formed XML in every part, whatever the texts are", () => {
    fc.assert(
      fc.property(fc.array(TEXT, { minLength: 1, maxLength: 5 }), (texts) => {
        const files = unzipSync(workbook([sheetOf(texts)]));
        expect(Object.keys(files)).toEqual([
          "[Content_Types].xml",
          "_rels/.rels",
          "xl/workbook.xml",
          "xl/_rels/workbook.xml.rels",
          "xl/styles.xml",
          "xl/worksheets/sheet1.xml",
        ]);
        for (const bytes of Object.values(files)) {
          const parser = new SaxesParser({ xmlns: true });
          parser.on("error", (error) => {
            throw error;
          });
          parser.write(strFromU8(bytes)).close();
        }
      }),
      { numRuns: 300, seed: 1 },
    );
  });

  it("gives our own reader every text back", () => {
    const texts = fc.sample(TEXT, { numRuns: 500, seed: 2 });
    const zip = openZip(workbook([sheetOf(texts)]));
    const book = readBook(zip)!;
    const sheet = readSheet(zip.read(book.sheets[0]!.path)!, book);
    for (const [index, text] of texts.entries())
      expect(plain(sheet.rows.get(index + 2)?.get(1)?.text ?? "")).toBe(plain(text));
  });

  it("cuts a text that no cell can hold", () => {
    const long = "a&b".repeat(20_000);
    const zip = openZip(workbook([sheetOf([long])]));
    const book = readBook(zip)!;
    const sheet = readSheet(zip.read(book.sheets[0]!.path)!, book);
    // 32,767 letters: limit of spreadsheet programs, as they state it.
    expect(sheet.rows.get(2)?.get(1)?.text).toBe(long.slice(0, 32_767));
  });

  it.skipIf(!HAS_LIBRE_OFFICE)(
    `shows every text in LibreOffice as it was, and works none out${WHERE_THERE}`,
    async () => {
      const texts = fc.sample(TEXT, { numRuns: 1500, seed: 3 }).filter(isPlain);
      const [book] = await recalculated([workbook([sheetOf(texts)])]);
      const rows = (book?.["Texts"] ?? []).slice(1);
      expect(rows.map(([text]) => text)).toEqual(texts);
      expect(texts.filter((text) => text.startsWith("=1+1")).length).toBeGreaterThan(10);
    },
    OFFICE_TIMEOUT_MS,
  );
});
