import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Amount } from "../../src/money.ts";
import { judge } from "../../src/nesting/check.ts";
import type { NestOutcome, NestPiece, SheetChoice } from "../../src/nesting/types.ts";
import { box, nest, piece, roll, sheet } from "./pieces.ts";

const square = (copies: number): NestPiece => piece("square", box(100, 100), { copies });
const large = sheet(300, 300, { id: "large", price: new Amount(20) });
const small = sheet(100, 100, { id: "small", price: new Amount(3) });

function sold(width: number, height: number, price: string): SheetChoice {
  return sheet(width, height, { marginMm: 5, gapMm: 3, price: new Amount(price) });
}

function used({ best }: NestOutcome): Readonly<Record<string, number>> {
  const counts: Record<string, number> = {};
  for (const { sheet: id } of best?.sheets ?? []) counts[id] = (counts[id] ?? 0) + 1;
  return counts;
}

describe("a mix of sizes", () => {
  it("takes a small sheet for what a last large one would hold", () => {
    const outcome = nest([square(19)], [large, small]);
    expect(used(outcome)).toEqual({ large: 2, small: 1 });
    expect(outcome.best?.sheetCost.toString()).toBe("43");
    expect(outcome.costBound.toString()).toBe("43");
    expect(outcome.best).toBe(outcome.mix);
    // Each size alone, for comparison.
    expect(outcome.bySize.map(({ sheetCost }) => sheetCost.toString())).toEqual(["57", "60"]);
  });

  it("is not made where one size is as cheap, nor kept where it costs more", () => {
    const outcome = nest([square(18)], [large, small]);
    expect(used(outcome)).toEqual({ large: 2 });
    expect(outcome.mix).toBeNull();
    expect(outcome.best).toBe(outcome.bySize[0]);
  });

  it("takes no more of a size than is on hand", () => {
    const outcome = nest([square(27)], [{ ...large, onHand: 2 }, small]);
    expect(used(outcome)).toEqual({ large: 2, small: 9 });
  });

  it("is complete where each part goes on another size only", () => {
    const rail = piece("rail", box(380, 20), { turn: "fixed" });
    const strip = sheet(400, 30, { id: "strip", price: new Amount(5) });
    const outcome = nest([square(4), rail], [large, strip]);
    expect(outcome.best?.unplaced).toEqual([]);
    expect(used(outcome)).toEqual({ large: 1, strip: 1 });
    expect(outcome.bySize.every(({ unplaced }) => unplaced.length > 0)).toBe(true);
  });

  it("stays beside the one with offcuts, to tell what they save", () => {
    const offcut = sheet(100, 100, { id: "shelf", price: new Amount(0), onHand: 1, offcut: true });
    const outcome = nest([square(19)], [large, small, offcut], { steps: 2 });
    expect(outcome.best?.sheetCost.toString()).toBe("40");
    expect(outcome.best).toBe(outcome.mix);
    expect(outcome.boughtMix?.sheetCost.toString()).toBe("43");
    expect(outcome.boughtMix?.choices.map(({ id }) => id)).toEqual(["large", "small"]);
    // Without one of use there is nothing to hold it against.
    expect(nest([square(19)], [large, small]).boughtMix).toBeNull();
  });

  it("takes a length of roll for what a last sheet would hold", () => {
    // 9 squares on a sheet; three side by side on each 100 mm of roll.
    const film = roll(300, { id: "film", price: new Amount(80) });
    const outcome = nest([square(10)], [large, film]);
    expect(outcome.best?.sheetCost.toString()).toBe("28");
    expect(outcome.bySize.map(({ sheetCost }) => sheetCost.toString())).toEqual(["32", "40"]);
    expect(outcome.best).toBe(outcome.mix);
    const cheap = { ...film, price: new Amount(60) };
    expect(nest([square(10)], [large, cheap]).best?.sheetCost.toString()).toBe("24");
  });

  it("leaves over what no set of sheets takes, and says why", () => {
    const outcome = nest(
      [square(20), piece("door", box(500, 500))],
      [
        { ...large, onHand: 1 },
        { ...small, onHand: 2 },
      ],
    );
    expect(outcome.best).toBeNull();
    const [least] = [...outcome.bySize, ...(outcome.mix ? [outcome.mix] : [])].sort(
      (a, b) => leftOn(a.unplaced) - leftOn(b.unplaced),
    );
    expect(least?.unplaced).toEqual([
      { part: "door", copies: 1, reason: expect.stringContaining("larger than every sheet") },
      { part: "square", copies: 9, reason: "no room left on all sheets on hand" },
    ]);
  });

  it("finds the cheaper sheet of eight signs of 300 x 80 in the first round", () => {
    // 83 % of a sheet of 600 x 400; a pass of set order takes two of them or a larger one.
    const signs = piece("sign", box(300, 80), { copies: 8 });
    const choices = [sold(600, 300, "13.85"), sold(600, 400, "17.15"), sold(900, 600, "34.15")];
    for (const seed of [1, 2, 3])
      expect(nest([signs], choices, { seed }).best?.sheetCost.toString()).toBe("17.15");
  });
});

function leftOn(unplaced: readonly { readonly copies: number }[]): number {
  return unplaced.reduce((sum, { copies }) => sum + copies, 0);
}

describe("offcuts", () => {
  const scrap = sheet(200, 100, { id: "scrap", price: new Amount(0), onHand: 1, offcut: true });

  it("are used first where that saves money, no more than there are", () => {
    const one = nest([square(11)], [large, small, scrap]);
    expect(used(one)).toEqual({ large: 1, scrap: 1 });
    expect(one.best?.sheetCost.toString()).toBe("20");
    expect(one.best).toBe(one.mix);
    // Nine and one small: 23 without the offcut.
    expect(used(nest([square(2)], [large, scrap]))).toEqual({ scrap: 1 });
    const two = nest([square(13)], [large, small, { ...scrap, onHand: 2 }]);
    expect(used(two)).toEqual({ large: 1, scrap: 2 });
  });

  it("stay on the shelf where they save nothing, or cost more than they save", () => {
    expect(used(nest([square(9)], [large, scrap]))).toEqual({ large: 1 });
    const dear = { ...scrap, price: new Amount(7) };
    expect(used(nest([square(11)], [large, small, dear]))).toEqual({ large: 1, small: 2 });
  });

  it("are no size to be bought, and may be all there is", () => {
    const outcome = nest([square(2)], [scrap]);
    expect(outcome.bySize).toEqual([]);
    expect(outcome.best?.sheetCost.toString()).toBe("0");
    expect(outcome.costBound.toString()).toBe("0");
  });
});

describe("any choice of sheets", () => {
  it("is judged, within stock, no dearer than one size, and not below the bound", () => {
    let [mixed, cheaper] = [0, 0];
    const row = fc.record({
      w: fc.integer({ min: 8, max: 60 }),
      h: fc.integer({ min: 8, max: 60 }),
      copies: fc.integer({ min: 1, max: 9 }),
      turn: fc.constantFrom("any", "quarter", "half", "fixed"),
    });
    const stock = fc.record({ few: fc.integer({ min: 1, max: 3 }), gapMm: fc.nat(3) });
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 4 }), stock, (rows, { few, gapMm }) => {
        const pieces = rows.map(({ w, h, ...more }, i) => piece(`p${i}`, box(w, h), more));
        const choices = [
          sheet(70, 70, { gapMm, price: new Amount("1.10") }),
          sheet(140, 75, { gapMm: gapMm + 1, price: new Amount("2.05"), marginMm: 2, onHand: few }),
          sheet(90, 40, { id: "scrap", gapMm, price: new Amount(0), onHand: few, offcut: true }),
          roll(75, { gapMm, price: new Amount("19.20"), marginMm: 1 }),
        ];
        const { best, bySize, mix, costBound } = nest(pieces, choices, { steps: 2 });
        for (const one of [...bySize, ...(mix === null ? [] : [mix])]) {
          expect(judge(pieces, one.choices, one.sheets, one.unplaced)).toEqual([]);
          if (one.unplaced.length > 0) continue;
          expect(best!.sheetCost.lte(one.sheetCost)).toBe(true);
          expect(costBound.lte(one.sheetCost)).toBe(true);
        }
        if (mix !== null) mixed++;
        if (mix !== null && bySize.every(({ sheetCost }) => mix.sheetCost.lt(sheetCost))) cheaper++;
      }),
      { seed: 5, numRuns: 40 },
    );
    expect(mixed).toBeGreaterThan(15);
    expect(cheaper).toBeGreaterThan(10);
  });
});
