import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Amount } from "../../src/money.ts";
import { costBound } from "../../src/nesting/cost-bound.ts";
import type { NestPiece, SheetChoice } from "../../src/nesting/types.ts";
import { box, nest, piece, roll, sheet } from "./pieces.ts";

describe("the cost bound", () => {
  it("is the price of the sheets that the areas fill, in whole sheets", () => {
    const tiles = piece("tile", box(100, 100), { copies: 9 });
    const one = sheet(200, 200, { price: new Amount("7.50") });
    expect(costBound([tiles], [one]).toString()).toBe("22.5");
    // Two large and one small for 26.00 are cheaper than three large or nine small.
    const large = sheet(200, 200, { id: "large", price: new Amount("10.00") });
    const small = sheet(100, 100, { id: "small", price: new Amount("6.00") });
    expect(costBound([tiles], [large, small]).toString()).toBe("26");
    const few = { ...large, onHand: 1 };
    expect(costBound([tiles], [few, small]).toString()).toBe("40");
  });

  it("pays for a sheet that holds the largest piece, and for rolls by their length", () => {
    const long = piece("long", box(390, 10));
    const cheap = sheet(300, 200, { id: "cheap", price: new Amount(1) });
    const dear = sheet(400, 50, { id: "dear", price: new Amount(9) });
    expect(costBound([long], [cheap, dear]).toString()).toBe("9");
    const strip = roll(200, { price: new Amount(8) });
    const bound = costBound([piece("tile", box(100, 100), { copies: 4 })], [strip]);
    expect(bound.toNumber()).toBeCloseTo(8 * 0.2, 6);
  });

  it("counts the gap around pieces", () => {
    // 3 x 3 squares of 66 fill 198 of 200; with a gap of 3 they take two sheets.
    const tiles = piece("tile", box(66, 66), { copies: 9 });
    expect(costBound([tiles], [sheet(200, 200)]).toString()).toBe("10");
    expect(costBound([tiles], [sheet(200, 200, { gapMm: 3 })]).toString()).toBe("20");
  });

  it("counts no offcut that takes no piece", () => {
    // Too narrow for a tile, though five tiles are covered by its area and that of one sheet.
    const shelf = { price: new Amount(0), onHand: 1, offcut: true };
    const narrow = sheet(90, 400, { id: "narrow", ...shelf });
    const tiles = piece("tile", box(100, 100), { copies: 5 });
    expect(costBound([tiles], [sheet(200, 200), narrow]).toString()).toBe("20");
    const wide = sheet(150, 240, { id: "wide", ...shelf });
    expect(costBound([tiles], [sheet(200, 200), wide]).toString()).toBe("10");
  });

  it("counts of a sheet what whole copies take of it", () => {
    // Two squares of 64 % of a sheet are on two sheets however they are turned; three on three.
    const squares = piece("square", box(80, 80), { copies: 3, turn: "any" });
    expect(costBound([squares], [sheet(100, 100)]).toString()).toBe("30");
    const chip = piece("chip", box(20, 20), { copies: 27, turn: "any" });
    expect(costBound([squares, chip], [sheet(100, 100)]).toString()).toBe("30");
    expect(costBound([squares, { ...chip, copies: 28 }], [sheet(100, 100)]).toString()).toBe("40");
  });

  it("gives a sheet to each rectangle that shares none", () => {
    // 36 % of the sheet each, but neither beside nor above each other.
    const squares = piece("square", box(60, 60), { copies: 3 });
    expect(costBound([squares], [sheet(100, 100)]).toString()).toBe("30");
    // Two of them lie beside each other exactly, and with a gap they do not.
    expect(costBound([{ ...squares, copies: 2 }], [sheet(100, 120)]).toString()).toBe("10");
    expect(costBound([squares], [sheet(100, 120, { gapMm: 1 })]).toString()).toBe("30");
    // Of the others it may share a sheet with one, and none of them with each other.
    const slat = piece("slat", box(40, 60));
    expect(costBound([squares, slat], [sheet(100, 100)]).toString()).toBe("30");
    // Across the corner 3 and 3 mm are left: more than 4 mm, less than 5.
    const tiles = piece("tile", box(50, 50), { copies: 2 });
    expect(costBound([tiles], [sheet(103, 103, { gapMm: 4 })]).toString()).toBe("10");
    expect(costBound([tiles], [sheet(103, 103, { gapMm: 5 })]).toString()).toBe("20");
  });

  it("misses no set by rounding", () => {
    // Every count of each tried, a sheet holding as many whole tiles as its area: 90 is the least. A sum
    // that missed the area by its last digit gave 93.
    const tiles = piece("tile", box(7, 7.1), { copies: 19_556, turn: "any" });
    const choices = [
      sheet(493, 473, { price: new Amount(19) }),
      sheet(322, 341, { price: new Amount(22) }),
      sheet(378, 561, { price: new Amount(18) }),
    ];
    expect(costBound([tiles], choices).toString()).toBe("90");
  });

  it("leaves out of account what no sheet takes", () => {
    const whale = piece("whale", box(500, 500));
    expect(costBound([whale], [sheet(200, 200)]).toString()).toBe("0");
    expect(costBound([], [sheet(200, 200)]).toString()).toBe("0");
  });

  it("never exceeds the cheapest of all ways to lay a few rectangles on a mix of sheets", () => {
    let judged = 0;
    let tight = 0;
    const side = fc.integer({ min: 1, max: 4 });
    const rectangles = fc.array(fc.tuple(side, side), { minLength: 1, maxLength: 4 });
    const size = fc.tuple(fc.integer({ min: 3, max: 6 }), fc.integer({ min: 3, max: 6 }));
    const price = fc.integer({ min: 1, max: 9 });
    const sizes = fc.array(fc.tuple(size, price), { minLength: 1, maxLength: 3 });
    fc.assert(
      fc.property(rectangles, sizes, fc.constantFrom(0, 1), (sides, offers, gapMm) => {
        const choices = offers.map(([[w, h], cost], i) =>
          sheet(w, h, { id: `s${i}`, price: new Amount(cost), gapMm }),
        );
        const pieces = sides.map(([w, h], i) => piece(`p${i}`, box(w, h)));
        const truth = cheapestByTrial(sides, choices);
        if (truth === null) return;
        const bound = costBound(pieces, choices).toNumber();
        expect(bound).toBeLessThanOrEqual(truth);
        const { best } = nest(pieces, choices);
        expect(best?.sheetCost.toNumber() ?? Infinity).toBeGreaterThanOrEqual(truth);
        judged++;
        if (bound === truth) tight++;
      }),
      { seed: 3, numRuns: 150 },
    );
    expect(judged).toBeGreaterThan(80);
    expect(tight).toBeGreaterThan(judged / 2);
  });

  it("never exceeds a nest found, for outlines and rolls of every kind", () => {
    let judged = 0;
    const row = fc.record({
      w: fc.integer({ min: 5, max: 60 }),
      h: fc.integer({ min: 5, max: 60 }),
      copies: fc.integer({ min: 1, max: 9 }),
      turn: fc.constantFrom("any", "quarter", "half", "fixed"),
      holed: fc.boolean(),
    });
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 4 }), fc.nat(3), (rows, gapMm) => {
        const pieces = rows.map(({ w, h, holed, ...more }, i): NestPiece => {
          const hole = box(w * 0.7, h * 0.7, w * 0.15, h * 0.15).toReversed();
          const region = { outer: box(w, h), holes: holed ? [hole] : [] };
          return { ...piece(`p${i}`, box(w, h), more), region };
        });
        const choices = [
          sheet(70, 70, { gapMm, price: new Amount("1.10") }),
          sheet(140, 70, { gapMm, price: new Amount("2.05"), marginMm: 2 }),
          roll(75, { gapMm, price: new Amount("14.20"), marginMm: 1 }),
          roll(75, { id: "in lengths", gapMm, price: new Amount("14.20"), longestMm: 65 }),
        ];
        const { bySize, costBound: bound } = nest(pieces, choices);
        for (const { unplaced, sheetCost } of bySize) {
          if (unplaced.length > 0) continue;
          expect(bound.lte(sheetCost)).toBe(true);
          judged++;
        }
      }),
      { seed: 4, numRuns: 30 },
    );
    expect(judged).toBeGreaterThan(60);
  });
});

/** Cheapest way to part the rectangles among sheets, each set on the cheapest sheet that takes it. */
function cheapestByTrial(
  sides: readonly (readonly [number, number])[],
  choices: readonly SheetChoice[],
): number | null {
  const all = 2 ** sides.length - 1;
  const costOf = Array.from({ length: all + 1 }, (_, set) => {
    const chosen = sides.filter((_side, i) => (set >> i) & 1);
    const costs = choices.filter((on) => fits(chosen, on)).map(({ price }) => price.toNumber());
    return costs.length === 0 ? Infinity : Math.min(...costs);
  });
  const best = [0];
  for (let set = 1; set <= all; set++) {
    best[set] = Infinity;
    for (let part = set; part > 0; part = (part - 1) & set)
      best[set] = Math.min(best[set]!, costOf[part]! + best[set ^ part]!);
  }
  return best[all] === Infinity ? null : best[all]!;
}

/** Whole sides and gaps: if they fit at all, they fit at whole coordinates. */
function fits(sides: readonly (readonly [number, number])[], on: SheetChoice): boolean {
  const lain: (readonly [number, number, number, number])[] = [];
  const lay = (index: number): boolean => {
    const next = sides[index];
    if (next === undefined) return true;
    const [a, b] = next;
    for (const [w, h] of [
      [a, b],
      [b, a],
    ] as const)
      for (let x = 0; x + w <= on.widthMm; x++)
        for (let y = 0; y + h <= on.heightMm!; y++) {
          const free = lain.every(([ox, oy, ow, oh]) =>
            apart(x - ox - ow, ox - x - w, y - oy - oh, oy - y - h, on.gapMm),
          );
          if (!free) continue;
          lain.push([x, y, w, h]);
          if (lay(index + 1)) return true;
          lain.pop();
        }
    return false;
  };
  return lay(0);
}

/** Signed distances to the right, left, top and bottom: apart along one axis, or across a corner. */
function apart(right: number, left: number, above: number, below: number, gap: number): boolean {
  const dx = Math.max(right, left);
  const dy = Math.max(above, below);
  if (Math.max(dx, dy) < 0) return false;
  return Math.hypot(Math.max(0, dx), Math.max(0, dy)) >= gap;
}
