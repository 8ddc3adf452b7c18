import { describe, expect, it } from "vitest";
import { DECIMAL_COMMA, readCsv } from "../../src/csv.ts";
import { outputFiles } from "../../src/exports/output-files.ts";
import { withPoint } from "../../src/job/numerals.ts";
import { estimated, SMALL } from "../helpers/job.ts";
import {
  HAS_LIBRE_OFFICE,
  OFFICE_TIMEOUT_MS,
  openedCsv,
  WHERE_THERE,
} from "../helpers/libre-office.ts";

/** Names and texts of the tables of a quote. */
function tables(...style: readonly [typeof DECIMAL_COMMA] | readonly []): readonly string[][] {
  return outputFiles(estimated(SMALL), ...style).flatMap(({ name, content }) =>
    typeof content === "string" && name.endsWith(".csv") ? [[name, content]] : [],
  );
}

function texts(of: readonly string[][]): readonly string[] {
  return of.map(([, text = ""]) => text);
}

/** Columns that hold nothing but numbers. */
const NUMBERS = new Set([
  "value",
  "quantity",
  "unit_price",
  "amount",
  "count",
  "line",
  "low",
  "high",
]);

describe("CSV files with decimal commas", () => {
  const [points, commas] = [tables(), tables(DECIMAL_COMMA)];

  it("are read again by our own reader, with the same numbers and texts", () => {
    let numbers = 0;
    expect(commas.map(([name]) => name)).toEqual([
      "quote.csv",
      "costing.csv",
      "shopping.csv",
      "cutlist.csv",
    ]);
    for (const [index, [name = "", text = ""]] of commas.entries()) {
      const [comma, point] = [readCsv(name, text), readCsv(name, points[index]?.[1] ?? "")];
      expect([comma.separator, comma.problems, comma.header]).toEqual([";", [], point.header]);
      for (const [row, { cells }] of comma.rows.entries())
        for (const [column, cell] of Object.entries(cells)) {
          const number = NUMBERS.has(column);
          if (number && cell.includes(",")) numbers += 1;
          expect(number ? (withPoint(cell) ?? cell) : cell).toBe(point.rows[row]?.cells[column]);
        }
    }
    expect(numbers).toBeGreaterThan(50);
  });

  it.skipIf(!HAS_LIBRE_OFFICE)(
    `open in a German LibreOffice as those with points in an English one${WHERE_THERE}`,
    async () => {
      const german = await openedCsv(texts(commas), ";", "German");
      const english = await openedCsv(texts(points), ",", "English (USA)");
      expect(german).toEqual(english);
      // 12,35 of the delivery has become a number, for it is shown with a point.
      expect(german.flat(2)).toContain("12.35");
      expect(texts(commas).join()).not.toContain("12.35");
    },
    OFFICE_TIMEOUT_MS,
  );
});
