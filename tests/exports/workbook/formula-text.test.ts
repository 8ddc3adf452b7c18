import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DECIMALS } from "../../../src/arithmetic.ts";
import { formulaText } from "../../../src/exports/workbook/formula-text.ts";
import { workbook } from "../../../src/exports/workbook/xlsx.ts";
import { FORMULAS } from "../../../src/formulas.ts";
import type { FormulaName } from "../../../src/formulas.ts";
import { Amount } from "../../../src/money.ts";
import {
  HAS_LIBRE_OFFICE,
  OFFICE_TIMEOUT_MS,
  recalculated,
  WHERE_THERE,
} from "../../helpers/libre-office.ts";

const PLAIN = { format: "General", role: "plain" } as const;
const NAMES = Object.keys(FORMULAS).filter((name): name is FormulaName => name in FORMULAS);

function textOf(formula: FormulaName, inputs: readonly string[]): string {
  return FORMULAS[formula].compute(
    formulaText(() => ""),
    inputs,
  );
}

describe("a formula as a spreadsheet's", () => {
  it.each([
    ["sum", "SUM(B2:D2)"],
    ["whole units", "(-INT(-ROUND((B2/C2),9)))"],
    ["plus percentage", "((B2*SUM(100,C2))/100)"],
    ["rounded to step", "(ROUND(ROUND((B2/C2),9),0)*C2)"],
    ["by the minute or the hour", "IF(B2>60,D2,C2)"],
    ["at least", "MAX(B2,C2,D2)"],
  ] as const)("%s is %s", (formula, text) => {
    const inputs = formula === "sum" ? ["B2:D2"] : ["B2", "C2", "D2"];
    expect(textOf(formula, inputs)).toBe(text);
  });

  it("takes cells below each other as a range, and long sums in parts below every limit", () => {
    const asides: string[] = [];
    const on = formulaText((formula) => {
      asides.push(formula);
      return `C${9000 + asides.length}`;
    });
    expect(on.sum(["C2", "C3", "C4", "D5", "C9", "C10"])).toBe("SUM(C2:C4,D5,C9:C10)");
    // No two of them follow each other.
    const scattered = Array.from({ length: 1000 }, (_, index) => `C${2 * index + 2}`);
    const all = [on.sum(scattered), ...asides];
    expect(all).toEqual(["SUM(C9001:C9005)", ...asides]);
    for (const formula of all) {
      // Limits of spreadsheet programs: 255 arguments, 8192 letters.
      expect(formula.split(",").length).toBeLessThanOrEqual(255);
      expect(formula.length).toBeLessThan(8192);
    }
    expect(asides.flatMap((formula) => formula.slice(4, -1).split(","))).toEqual(scattered);
  });
});

/** Numbers with halves, thirds, dust and both signs among them. */
const NUMBER = fc.oneof(
  fc.integer({ min: -4000, max: 4000 }).map((n) => new Amount(n).div(8)),
  fc.integer({ min: -1000, max: 9000 }).map((n) => new Amount(n).div(3)),
  fc.integer({ min: -50_000, max: 50_000 }).map((n) => new Amount(n).div(1000)),
  fc.integer({ min: 1, max: 900 }).map((n) => new Amount(n).plus("1e-11")),
);
/** Percents below 100, steps, packs: what others are divided by. */
const DIVISOR = fc
  .constantFrom("0.01", "0.05", "0.001", "1", "3", "12", "25", "60", "7.5")
  .map((text) => new Amount(text));

const COUNT = fc.integer({ min: 1, max: 80 }).map((n) => new Amount(n));
const EXPONENT = fc.integer({ min: -1000, max: 0 }).map((n) => new Amount(n).div(1000));
const RATE = fc.integer({ min: 50, max: 100 }).map((n) => new Amount(n));

/** Whatever a formula has an answer for. */
const CALL = fc
  .constantFrom(...NAMES)
  .chain((formula) =>
    fc.tuple(fc.constant(formula), ...firstInputs(formula), DIVISOR, DIVISOR, DIVISOR),
  );

function firstInputs(formula: FormulaName): [fc.Arbitrary<Amount>, fc.Arbitrary<Amount>] {
  if (formula === "learning exponent") return [RATE, RATE];
  return formula.startsWith("learned") ? [COUNT, EXPONENT] : [NUMBER, DIVISOR];
}

it.skipIf(!HAS_LIBRE_OFFICE)(
  `comes to the same in LibreOffice as in decimals, for every formula${WHERE_THERE}`,
  async () => {
    const drawn = fc.sample(CALL, {
      numRuns: 1500,
      seed: 20261126,
    });
    const rows = drawn.map(([formula, ...inputs], index) => {
      const cells = ["B", "C", "D", "E", "F"].map((column) => `${column}${index + 2}`);
      const numbers = inputs.map(
        (one) => ({ kind: "number", value: one.toString(), look: PLAIN }) as const,
      );
      return [
        { kind: "formula", formula: textOf(formula, cells), value: "-1", look: PLAIN } as const,
        ...numbers,
      ];
    });
    const [book] = await recalculated([
      workbook([{ name: "All", rows: [[], ...rows], numbersOnly: [] }]),
    ]);
    const got = (book?.["All"] ?? []).slice(1).map(([value]) => Number(value));
    expect(got).toHaveLength(drawn.length);
    const judged = new Set<string>();
    for (const [index, [formula, ...inputs]] of drawn.entries()) {
      const wanted = FORMULAS[formula].compute(DECIMALS, inputs).toNumber();
      expect(
        Math.abs((got[index] ?? NaN) - wanted),
        `${formula} of ${inputs.join(", ")}`,
      ).toBeLessThan(1e-9 * Math.max(1, Math.abs(wanted)));
      judged.add(formula);
    }
    expect(judged.size).toBe(NAMES.length);
  },
  OFFICE_TIMEOUT_MS,
);

/** Net total in minor units, rate in tenths of a percent, decimals of the currency: a half in each tax. */
const HALVES = fc
  .tuple(
    fc.integer({ min: 0, max: 9_999_999 }),
    fc.constantFrom(25, 50, 75, 125, 150, 190),
    fc.constantFrom(2, 3),
  )
  .filter(([minor, rate]) => (minor * rate) % 1000 === 500);

it.skipIf(!HAS_LIBRE_OFFICE)(
  `rounds half a minor unit of tax up in LibreOffice, up to ten million of them${WHERE_THERE}`,
  async () => {
    const drawn = fc.sample(HALVES, { numRuns: 1500, seed: 20261126 });
    const rows = drawn.map(([minor, rate, digits], index) => {
      const unit = new Amount(10).pow(-digits);
      const [net = "", percent = "", step = ""] = ["B", "C", "D"].map(
        (column) => `${column}${index + 2}`,
      );
      const formula = textOf("rounded to step", [textOf("percentage", [net, percent]), step]);
      const numbers = [unit.times(minor), new Amount(rate).div(10), unit];
      return [
        { kind: "formula", formula, value: "-1", look: PLAIN } as const,
        ...numbers.map((one) => ({ kind: "number", value: one.toString(), look: PLAIN }) as const),
      ];
    });
    const [book] = await recalculated([
      workbook([{ name: "All", rows: [[], ...rows], numbersOnly: [] }]),
    ]);
    const got = (book?.["All"] ?? []).slice(1);
    // In whole minor units: the half above is reckoned without any division.
    const wanted = drawn.map(([minor, rate]) => (minor * rate + 500) / 1000);
    expect(got.map(([tax], index) => Number(tax) * 10 ** drawn[index]![2])).toEqual(
      wanted.map((value) => expect.closeTo(value, 4)),
    );
  },
  OFFICE_TIMEOUT_MS,
);
