import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { FigureSheet, recompute } from "../src/figure.ts";
import { FORMULAS, valueOf } from "../src/formulas.ts";
import type { Source } from "../src/figure.ts";
import type { FormulaName } from "../src/formulas.ts";
import { Amount } from "../src/money.ts";

const SOURCE: Source = {
  kind: "cell",
  place: { file: "parts.csv", line: 2, column: "qty" },
  cited: null,
};

function compute(formula: FormulaName, ...inputs: readonly (number | string)[]): string {
  return valueOf(
    formula,
    inputs.map((input) => new Amount(input)),
  ).toString();
}

/** Worked by hand: inputs, answer. */
const WORKED: Readonly<Record<FormulaName, readonly (readonly [(number | string)[], string])[]>> = {
  sum: [
    [[1, 2, 3.5], "6.5"],
    [[], "0"],
    [["0.1", "0.2"], "0.3"],
  ],
  product: [
    [[2, 3, 4], "24"],
    [[], "1"],
    [["0.1", "0.2"], "0.02"],
  ],
  difference: [[[5, 7], "-2"]],
  quotient: [
    [[7, 2], "3.5"],
    [[0, 3], "0"],
  ],
  "whole units": [
    [[7, 2], "4"],
    [[6, 2], "3"],
    [["6.000000001", 2], "4"],
    [["6.0000000000000003", 2], "3"],
    [[0, 25], "0"],
    [[48, 25], "2"],
  ],
  "rounded up": [
    [["1.01"], "2"],
    [["2.0000000000000003"], "2"],
    [[2], "2"],
    [["0"], "0"],
  ],
  "at most": [
    [[3, 10], "3"],
    [["10.5", "2.25"], "2.25"],
    [[4, 4], "4"],
  ],
  "at least": [
    [[3, 10], "10"],
    [[11, 10, 2], "11"],
  ],
  "smallest that covers": [
    // Worked check values of bolts: 55.5 to 60 in steps of 5 (rule worked from a reference page).
    [["55.5", 40, 45, 50, 55, 60, 65], "60"],
    [[55, 40, 55, 60], "55"],
    // Two half-inch plates: 1.700 in, and 1.75 in serves (machine design textbook exercise).
    [["1.7", "1.5", "1.75", 2], "1.75"],
    [[99, 40, 55], "55"],
  ],
  "where taken": [
    [[48, 20, 20], "48"],
    [[48, 20, 16], "0"],
    [[48, 16, 20], "0"],
  ],
  // Adhesive chart: 40 ml at 1/8 in are 16.6 ft, 50 ml at 1/4 in 5.2 ft; here 2 mm across, by hand.
  "bead volume": [[[2, 113], "0.355"]],
  "film volume": [
    [["0.254", 100], "2.54"],
    [[1, 10], "1"],
  ],
  percentage: [
    [[200, 15], "30"],
    [[200, 0], "0"],
  ],
  "plus percentage": [[[200, 15], "230"]],
  "less percentage": [
    [[200, 15], "170"],
    [[200, 100], "0"],
  ],
  "cost over margin": [
    [[80, 20], "100"],
    [[75, 25], "100"],
  ],
  // The maths teaching site's price 100 with cost 80: margin 20 % of the price, markup 25 % of the cost.
  "share in percent": [
    [[20, 100], "20"],
    [[20, 80], "25"],
  ],
  "rest in percent": [[[30], "70"]],
  // Woodworkers association article: 5 % off for each repetition, 30 % at most.
  "repeat percentage": [
    [[1, 5, 30], "0"],
    [[2, 5, 30], "5"],
    [[4, 5, 30], "15"],
    [[7, 5, 30], "30"],
    [[100, 5, 30], "30"],
  ],
  "days sooner": [
    [[5, 2], "3"],
    [[5, 5], "0"],
    [[5, 8], "0"],
  ],
  negative: [
    [[12.5], "-12.5"],
    [[0], "0"],
  ],
  "spreading rate": [
    // Spreading-rate sheet: 65 % volume solids at 125 um dry give 5.2 m2 a litre.
    [[1, 65, 125], "5.2"],
    [["0.4", 15, 25], "2.4"],
  ],
  // Coatings blog, worked: 50 % thinned by 10 % are 45.45 %.
  "thinned solids": [
    [[50, 25], "40"],
    [[45, 0], "45"],
  ],
  // Coatings primer: 1 mil wet of a paint of 50 % leaves half a mil.
  "wet film": [[[25, 50], "50"]],
  "grown for loss": [
    [[2, 20], "2.5"],
    [[3, 0], "3"],
  ],
  "ml to l": [[[400], "0.4"]],
  "seconds to minutes": [[[90], "1.5"]],
  "minutes to hours": [[[90], "1.5"]],
  "minutes at hourly rate": [
    [[90, 30], "45"],
    [[50, 30], "25"],
  ],
  "by the minute or the hour": [
    [[60, 60, 50], "60"],
    [["60.000001", 60, 50], "50"],
    [[75, 75, 100], "100"],
  ],
  "lines to area": [[[1000, "0.1"], "0.1"]],
  "rounded to step": [
    [["12.344", "0.01"], "12.34"],
    [["12.345", "0.01"], "12.35"],
    [["-12.345", "0.01"], "-12.35"],
    [[7, 5], "5"],
    [["7.5", 5], "10"],
    [["12.344999999999999999999999999999999999", "0.01"], "12.35"],
  ],
  "g to kg": [[[856.8], "0.8568"]],
  "mm3 to cm3": [[[250, 300, 150], "11250"]],
  "price by steps": [
    [[2, 2, "4.90", 5, "6.90"], "4.9"],
    [["2.01", 2, "4.90", 5, "6.90"], "6.9"],
    [[5, 2, "4.90", 5, "6.90", 10, "9.50"], "6.9"],
    [[99, 2, "4.90", 5, "6.90"], "6.9"],
  ],
  "learning exponent": [
    [[50], "-1"],
    [[100], "0"],
  ],
  // With b = -1 the units take 1, 1/2, 1/4 ... where their number is a power of 2.
  "learned by the unit": [
    [[1, "-0.3"], "1"],
    [[2, -1], "1.5"],
    [[4, 1], "10"],
    [[6, 0], "6"],
    [[10, 2], "385"],
  ],
  "learned by the average": [
    [[1, "-0.3"], "1"],
    [[4, -1], "1"],
    [[4, "-0.5"], "2"],
    [[6, 0], "6"],
  ],
  "rounded up to step": [
    [[101, 5], "105"],
    [[100, 5], "100"],
    [["100.01", "0.5"], "100.5"],
    [["20.000000000000000000000000000000000001", 5], "20"],
  ],
};

const NAMES = Object.keys(FORMULAS).filter((name): name is FormulaName => name in FORMULAS);
/** Formulas that take just the inputs they name. */
const OF_FEW = NAMES.filter((name) => !FORMULAS[name].text.includes("{*}"));

describe("formulas", () => {
  const cases = NAMES.flatMap((name) =>
    WORKED[name].map(([inputs, answer]) => [name, inputs, answer] as const),
  );

  it.each(cases)("%s of %j is %s", (name, inputs, answer) => {
    expect(compute(name, ...inputs)).toBe(answer);
  });

  it("are each worked by hand above", () => {
    expect(Object.keys(WORKED).toSorted()).toEqual(NAMES.toSorted());
    expect(NAMES.every((name) => WORKED[name].length > 0)).toBe(true);
  });

  it.each(OF_FEW)("%s names every input in its words, and wants them all", (name) => {
    const inputs = WORKED[name][0]?.[0] ?? [];
    const named = [...FORMULAS[name].text.matchAll(/\{\d\}/g)].map(([mark]) => mark);
    expect(named.toSorted()).toEqual(inputs.map((_, index) => `{${index}}`));
    expect(() => compute(name, ...inputs.slice(1))).toThrow(RangeError);
  });

  it.each(["quotient", "whole units", "rounded to step", "rounded up to step"] as const)(
    "%s by zero has no answer",
    (name) => {
      expect(() => compute(name, 1, 0)).toThrow(RangeError);
    },
  );

  it("a margin of the whole price has no answer", () => {
    expect(() => compute("cost over margin", 1, 100)).toThrow(RangeError);
  });
});

describe("markup and margin are not the same (published worked values)", () => {
  // Maths teaching site: cost 80, margin 20 %: price 100, which is a markup of 25 %.
  it("cost 80 at a margin of 20 % is 100, and so at a markup of 25 %", () => {
    expect(compute("cost over margin", 80, 20)).toBe("100");
    expect(compute("plus percentage", 80, 25)).toBe("100");
  });

  // Maths teaching site: cost 20, margin 80 %: price 100, which is a markup of 400 %.
  it("cost 20 at a margin of 80 % is 100, and so at a markup of 400 %", () => {
    expect(compute("cost over margin", 20, 80)).toBe("100");
    expect(compute("plus percentage", 20, 400)).toBe("100");
  });

  // Worked values page: cost 40, markup 50 %: price 60, which is a margin of 33.33 %.
  it("cost 40 at a markup of 50 % is 60, and so at a margin of a third", () => {
    expect(compute("plus percentage", 40, 50)).toBe("60");
    expect(Number(compute("cost over margin", 40, "33.33"))).toBeCloseTo(60, 2);
  });

  // Worked values page: cost 29.99, markup 25 %: 37.49.
  it("cost 29.99 at a markup of 25 % is 37.49", () => {
    const exact = compute("plus percentage", "29.99", 25);
    expect(exact).toBe("37.4875");
    expect(compute("rounded to step", exact, "0.01")).toBe("37.49");
  });
});

describe("FigureSheet", () => {
  it("refuses an id twice, inputs that are not there and values that are no numbers", () => {
    const sheet = new FigureSheet();
    sheet.given("a", "a", "pcs", 2, SOURCE);
    expect(() => sheet.given("a", "a", "pcs", 3, SOURCE)).toThrow(RangeError);
    expect(() => sheet.derived("a", "a", "pcs", "sum", ["a"])).toThrow(RangeError);
    expect(() => sheet.derived("b", "b", "pcs", "sum", ["a", "c"])).toThrow(RangeError);
    expect(() => sheet.derived("b", "b", "pcs", "sum", ["b"])).toThrow(RangeError);
    expect(() => sheet.given("c", "c", "pcs", Number.NaN, SOURCE)).toThrow(RangeError);
    expect(() => sheet.given("c", "c", "pcs", Number.POSITIVE_INFINITY, SOURCE)).toThrow(
      RangeError,
    );
    expect(() => sheet.value("c")).toThrow(RangeError);
    expect(sheet.figures().map(({ id }) => id)).toEqual(["a"]);
  });

  it("keeps where a figure came from", () => {
    const sheet = new FigureSheet();
    const a = sheet.given("a", "copies", "pcs", 2, SOURCE);
    sheet.derived("b", "twice", "pcs", "sum", [a, a], "two sides");
    expect(sheet.has("b")).toBe(true);
    expect(sheet.value("b").toString()).toBe("4");
    expect(sheet.figures().map(({ origin }) => origin)).toEqual([
      { kind: "given", source: SOURCE },
      { kind: "derived", formula: "sum", inputs: ["a", "a"], because: "two sides" },
    ]);
  });
});

function sheetOf(
  givens: readonly number[],
  steps: readonly (readonly [FormulaName, number, number])[],
): FigureSheet {
  const sheet = new FigureSheet();
  for (const [index, value] of givens.entries())
    sheet.given(`g${index}`, "given", "pcs", value, SOURCE);
  for (const [index, [formula, first, second]] of steps.entries()) {
    const ids = sheet.figures().map(({ id }) => id);
    const inputs = [ids[first % ids.length]!, ids[second % ids.length]!];
    sheet.derived(`d${index}`, "derived", "pcs", formula, inputs);
  }
  return sheet;
}

describe("recompute", () => {
  const FORMULA = fc.constantFrom<FormulaName>(
    "sum",
    "product",
    "difference",
    "at least",
    "percentage",
    "plus percentage",
    "rounded up",
    "ml to l",
  );
  const GIVENS = fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 2, maxLength: 5 });
  const STEPS = fc.array(fc.tuple(FORMULA, fc.nat(), fc.nat()), { minLength: 1, maxLength: 12 });

  it("agrees with a sheet that was filled with the changed values", () => {
    let moved = 0;
    fc.assert(
      fc.property(
        GIVENS,
        STEPS,
        fc.nat(),
        fc.integer({ min: -50, max: 50 }),
        (givens, steps, at, to) => {
          const sheet = sheetOf(givens, steps);
          const place = at % givens.length;
          const again = sheetOf(givens.with(place, to), steps);
          const same = recompute(sheet.figures(), new Map());
          const changed = recompute(sheet.figures(), new Map([[`g${place}`, new Amount(to)]]));
          for (const { id, value } of sheet.figures()) expect(same.get(id)?.eq(value)).toBe(true);
          for (const { id, value } of again.figures()) {
            expect(changed.get(id)?.eq(value)).toBe(true);
            if (!value.eq(sheet.value(id))) moved += 1;
          }
        },
      ),
      { numRuns: 500, seed: 1 },
    );
    expect(moved).toBeGreaterThan(1000);
  });

  it("does not take orders for derived figures", () => {
    const sheet = sheetOf([2, 3], [["sum", 0, 1]]);
    expect(
      recompute(sheet.figures(), new Map([["d0", new Amount(9)]]))
        .get("d0")
        ?.toNumber(),
    ).toBe(5);
  });
});
