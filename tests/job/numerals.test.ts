import { describe, expect, it } from "vitest";
import { amount, day, length, mmUpTo, percentUpTo, positive, whole } from "../../src/job/cells.ts";
import type { CellKind } from "../../src/job/cells.ts";
import {
  hasDecimalComma,
  hasDecimalPoint,
  numeralMend,
  withPoint,
} from "../../src/job/numerals.ts";

/** What a cell is read as, or the words that say how to mend it. */
type Outcome = number | string;

function outcome(kind: CellKind<unknown>, cell: string): Outcome {
  const value = kind.read(cell);
  return value === null ? kind.mend(cell) : Number(value);
}

const MINUS = "Write it without the minus sign, or correct it";
const NO_LENGTH = "Write a number and its unit: mm, cm, m or in; without one it is mm";
const NO_NUMBER = "Write a plain number such as 12.50";
const NO_COUNT = "Write the count in digits only";

// 1 in = 25.4 mm exactly (international yard and pound agreement, 1959).
describe("a length as people type it", () => {
  it.each<[string, Outcome]>([
    ["3", 3],
    ["3mm", 3],
    ["3 mm", 3],
    ["3\u00A0mm", 3],
    ["3 MM", 3],
    [".5 mm", 0.5],
    ["2.5 cm", 25],
    ["0.018 m", 18],
    ['1/8"', 3.175],
    ["1/8 in", 3.175],
    ['0.5"', 12.7],
    ["0.5 inch", 12.7],
    ["1 1/2 in", 38.1],
    ["1-1/2 in", 38.1],
    ["24\u2033", 609.6],
    ["24\u201D", 609.6],
    ["20 m", 20_000],
    ["21 m", "Correct the length or its unit: it goes up to 20 m"],
    ["0", "Correct the length"],
    ["1/8", "Write 1/8 in if inches are meant, or 0.125 mm"],
    ["1 1/2", "Write 1 1/2 in if inches are meant, or 1.5 mm"],
    ["3,2", "Write 3.2, with a decimal point"],
    ["3,2 mm", "Write 3.2 mm, with a decimal point"],
    ["1,200", "Write 1200 for thousands or 1.2 with a decimal point"],
    ["1,200 mm", "Write 1200 mm for thousands or 1.2 mm with a decimal point"],
    ["1,200.5", "Write 1200.5, without marks between thousands"],
    ["1.200,5", "Write 1200.5, without marks between thousands, with a decimal point"],
    ["1 200", "Write 1200, without marks between thousands"],
    ["1\u202F200 mm", "Write 1200 mm, without marks between thousands"],
    ["1'200", "Write 1200, without marks between thousands"],
    ["\uFF13\uFF0E\uFF15", "Write 3.5, in plain digits"],
    ["\uFF13 mm", "Write 3 mm, in plain digits"],
    ["1\u00BD in", "Write 1 1/2 in, in plain digits"],
    ["\u00BC\u2033", "Write 1/4\u2033, in plain digits"],
    ["+3", "Write 3, without a sign"],
    ["3.", "Write 3, without the point"],
    ["3. mm", "Write 3 mm, without the point"],
    ["1e3", "Write 1000, without an exponent"],
    ["1.2E+2 mm", "Write 120 mm, without an exponent"],
    ["-3", MINUS],
    ["-0", MINUS],
    ["\u22123 mm", MINUS],
    ["1e999", NO_LENGTH],
    ["0x10", NO_LENGTH],
    ["Infinity", NO_LENGTH],
    ["NaN", NO_LENGTH],
    ["3 px", NO_LENGTH],
    ["1/0 in", NO_LENGTH],
    ["three", NO_LENGTH],
    ["3-4 mm", NO_LENGTH],
    ["2 ft", "Write it in inches, 12 to the foot: mm, cm, m and in are read"],
    ["2' 6\"", "Write it in inches, 12 to the foot: mm, cm, m and in are read"],
    ["60x40", "Write one size in each cell: every size has a column of its own"],
    ["60 \u00D7 40 mm", "Write one size in each cell: every size has a column of its own"],
  ])("%j", (cell, wanted) => {
    expect(outcome(length, cell)).toBe(wanted);
  });
});

describe("an amount or a number as people type it", () => {
  it.each<[string, Outcome]>([
    ["12.50", 12.5],
    ["0", 0],
    ["12,50", "Write 12.50, with a decimal point"],
    ["1,250", "Write 1250 for thousands or 1.25 with a decimal point"],
    ["1,250.50", "Write 1250.50, without marks between thousands"],
    ["1.250,50", "Write 1250.50, without marks between thousands, with a decimal point"],
    ["1 250,50", "Write 1250.50, without marks between thousands, with a decimal point"],
    ["1,000,000", "Write 1000000, without marks between thousands"],
    ["1.000.000", "Write 1000000, without marks between thousands"],
    ["12.50 EUR", "Write 12.50, without the currency"],
    ["\u20AC 12,50", "Write 12.50, without the currency, with a decimal point"],
    ["$12", "Write 12, without the currency"],
    ["20 %", "Write 20, without the percent sign"],
    [".5", "Write 0.5, with a digit before the point"],
    ["12.", "Write 12, without the point"],
    ["12,-", NO_NUMBER],
    ["\uFF11\uFF12", "Write 12, in plain digits"],
    ["+3", "Write 3, without a sign"],
    ["1e3", "Write 1000, without an exponent"],
    ["1e-3", "Write 0.001, without an exponent"],
    ["-3", MINUS],
    ["-0", MINUS],
    ["0x10", NO_NUMBER],
    ["Infinity", NO_NUMBER],
    ["12.50.10", NO_NUMBER],
    ["1,2,3", NO_NUMBER],
    ["ask", NO_NUMBER],
  ])("%j", (cell, wanted) => {
    expect(outcome(amount, cell)).toBe(wanted);
  });

  it.each(["12.50", "12,50", "1 250,50", "20 %", ".5", "1e3", "-3", "NaN", "1,2,3"])(
    "is the same for a plain number: %s",
    (cell) => {
      expect(outcome(positive, cell)).toBe(outcome(amount, cell));
    },
  );

  it.each<[string, string]>([
    ["2.4 m", "Write 2400, the number of mm alone"],
    ["1/8 in", "Write 3.175, the number of mm alone"],
    ["3 mm", "Write 3, the number of mm alone"],
    ["3,2", "Write 3.2, with a decimal point"],
    ["90 m", "Write the number alone, in the unit that the name of the column says"],
    ["3 px", "Write the number alone, in the unit that the name of the column says"],
  ])("in a column of mm is worked out from its unit: %s", (cell, wanted) => {
    expect(outcome(mmUpTo(20_000), cell)).toBe(wanted);
  });

  it.each(["2 h", "12 mm/s", "0.7 m/min", "0.4 l", "5 m2", "8000 mm/s2", "25 \u00B5m"])(
    "never loses a unit that changes it: %s",
    (cell) => {
      const alone = "Write the number alone, in the unit that the name of the column says";
      expect(outcome(positive, cell)).toBe(alone);
    },
  );

  it("goes no further than an honest job does, and says how far", () => {
    const far = "Correct the number, which goes up to 300: a digit or the point has slipped";
    expect(outcome(percentUpTo(300), "300")).toBe(300);
    expect(outcome(percentUpTo(300), "300.5")).toBe(far);
    expect(outcome(amount, "1000000000.01")).toContain("goes up to 1000000000");
  });
});

describe("a count as people type it", () => {
  it.each<[string, Outcome]>([
    ["4", 4],
    ["007", 7],
    ["0", "Correct the count, or delete what is not wanted"],
    ["4.0", "Write 4, without the decimals"],
    ["1.5", "Round it to a whole number"],
    ["1,5", NO_COUNT],
    ["1.000", "Write 1000 if thousands are meant, or 1"],
    ["1,000", "Write 1000 if thousands are meant, or 1"],
    ["12 pcs", "Write 12, in digits only"],
    ["4x", "Write 4, in digits only"],
    ["x4", "Write 4, in digits only"],
    ["1e3", "Write 1000, without an exponent"],
    ["+4", "Write 4, without a sign"],
    ["\uFF14", "Write 4, in plain digits"],
    ["-4", MINUS],
    ["0x10", NO_COUNT],
    ["four", NO_COUNT],
    ["2-3", NO_COUNT],
    ["1000001", "Correct the number, which goes up to 1000000: a digit or the point has slipped"],
  ])("%j", (cell, wanted) => {
    expect(outcome(whole, cell)).toBe(wanted);
  });
});

describe("a decimal comma", () => {
  it.each<[string, string | null, boolean]>([
    ["12,5", "12.5", true],
    ["12,5 mm", "12.5 mm", true],
    ["0,125", "0.125", true],
    ["1200,125", "1200.125", true],
    ["3,1750", "3.1750", true],
    ["1,200", "1.200", false],
    ["12", null, false],
    ["12.5", null, false],
    ["1.200,5", null, false],
    ["1,2,3", null, false],
    ["1,200.5", null, false],
  ])("in %s", (cell, point, surely) => {
    expect(withPoint(cell)).toBe(point);
    expect(hasDecimalComma(cell)).toBe(surely);
  });
});

it.each<[string, boolean]>([
  ["12.5", true],
  [".5 mm", true],
  ["0.125", true],
  ["1.200", false],
  ["1.200,5", false],
  ["12", false],
])("a point in %s is surely a decimal one: %s", (cell, surely) => {
  expect(hasDecimalPoint(cell)).toBe(surely);
});

it("says nothing of texts that hold no number", () => {
  expect(numeralMend("as needed", () => false, null)).toBeNull();
});

describe("a day as people type it", () => {
  it.each([
    ["20.11.2026", "2026-11-20"],
    ["1.2.2026", "2026-02-01"],
    ["20/11/2026", "2026-11-20"],
    ["11/20/2026", "2026-11-20"],
    ["3/3/2026", "2026-03-03"],
    ["1/2/2026", "year, month and day of the calendar as 2026-11-25"],
    ["30.2.2026", "year, month and day of the calendar as 2026-11-25"],
    ["20.11.26", "year, month and day of the calendar as 2026-11-25"],
    ["next week", "year, month and day of the calendar as 2026-11-25"],
  ])("%s", (cell, wanted) => {
    expect(day.read(cell)).toBeNull();
    expect(day.mend(cell)).toBe(`Write ${wanted}`);
  });
});
