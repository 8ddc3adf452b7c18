import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Amount } from "../../../src/money.ts";
import { outlineOf } from "../../../src/nesting/outline.ts";
import { layRectangles } from "../../../src/nesting/rectangles/search.ts";
import { rectanglesOf } from "../../../src/nesting/rectangles/sizes.ts";
import type { NestPiece, SheetChoice } from "../../../src/nesting/types.ts";
import { box, piece, ring, roll, sheet } from "../pieces.ts";
import { faultsOf, laidAfter } from "./makers.ts";
import { boxFaults, laidBoxes } from "./sweep-judge.ts";

const side = fc.integer({ min: 3, max: 60 });
const aslant = fc
  .tuple(side, side)
  .map(([w, h]) =>
    ring([0, 0], [w * 0.8, w * 0.6], [w * 0.8 - h * 0.6, w * 0.6 + h * 0.8], [-h * 0.6, h * 0.8]),
  );
const shape = fc.oneof(
  { weight: 4, arbitrary: fc.tuple(side, side, side).map(([w, h, x]) => box(w, h, x, -x)) },
  { weight: 1, arbitrary: fc.tuple(side, side).map(([w, h]) => box(w / 7, h / 3)) },
);
const more = {
  copies: fc.integer({ min: 1, max: 6 }),
  flatteningMm: fc.constantFrom(0, 0, 0.05),
};
const row = fc.oneof(
  fc.record({ outer: shape, turn: fc.constantFrom("any", "quarter", "half", "fixed"), ...more }),
  fc.record({ outer: aslant, turn: fc.constant("any"), ...more }),
);
const rows = fc
  .array(row, { minLength: 1, maxLength: 8 })
  .map((all) =>
    all.map(({ outer, ...others }, i) => piece(`p${i}`, outer, others as Partial<NestPiece>)),
  );
const offer = fc.record({
  w: fc.integer({ min: 40, max: 150 }),
  h: fc.integer({ min: 40, max: 150 }),
  marginMm: fc.constantFrom(0, 4),
  gapMm: fc.constantFrom(0, 0, 0.7, 3),
  onHand: fc.constantFrom(null, null, 1, 2),
  price: fc.integer({ min: 0, max: 40 }).map((price) => new Amount(price)),
});
const offers = fc
  .array(offer, { minLength: 1, maxLength: 4 })
  .map((all) => all.map(({ w, h, ...others }, i) => sheet(w, h, { ...others, id: `s${i}` })));

describe("rectangles on sheets", () => {
  it("pass both judges, whatever the sheets", () => {
    const counted = { placed: 0, left: 0, tooLarge: 0, mixed: 0, turned: 0 };
    fc.assert(
      fc.property(rows, offers, (pieces, choices) => {
        const laid = laidAfter(pieces, choices);
        expect(faultsOf(pieces, choices, laid)).toEqual([]);
        const placed = laid.sheets.flatMap((each) => each.placed);
        counted.placed += placed.length;
        counted.turned += placed.filter(({ variant }) => variant.turnDeg !== 0).length;
        counted.left += laid.left.filter((left, i) => left > 0 && laid.fits[i]!).length;
        counted.tooLarge += laid.fits.filter((fits) => !fits).length;
        counted.mixed += new Set(laid.sheets.map(({ choice }) => choice)).size > 1 ? 1 : 0;
        const paid = laid.sheets.reduce((sum, { choice }) => sum + choice.price.toNumber(), 0);
        expect(laid.cost).toBeCloseTo(paid, 9);
      }),
      { seed: 21, numRuns: 60 },
    );
    expect(counted.placed).toBeGreaterThan(500);
    expect(counted.turned).toBeGreaterThan(150);
    expect(counted.left).toBeGreaterThan(3);
    expect(counted.tooLarge).toBeGreaterThan(3);
    expect(counted.mixed).toBeGreaterThan(10);
  });

  it("fill a sheet that was cut up at random", () => {
    let filled = 0;
    const cuts = fc.array(fc.tuple(fc.nat(), fc.integer({ min: 20, max: 80 }), fc.boolean()), {
      minLength: 1,
      maxLength: 9,
    });
    fc.assert(
      fc.property(
        cuts,
        fc.constantFrom(0, 0.7),
        fc.constantFrom(0, 5.1),
        (all, gapMm, marginMm) => {
          const pieces = cutUp(97.3, 61.9, gapMm, all);
          const choices = [
            sheet(97.3 + 2 * marginMm, 61.9 + 2 * marginMm, { gapMm, marginMm, onHand: 1 }),
          ];
          const laid = laidAfter(pieces, choices, 20);
          expect(faultsOf(pieces, choices, laid)).toEqual([]);
          expect(laid.left.every((left) => left === 0)).toBe(true);
          filled++;
        },
      ),
      { seed: 5, numRuns: 60 },
    );
    expect(filled).toBe(60);
  });

  it("as large as the sheet take one each; a hair larger, none", () => {
    let cases = 0;
    const tenths = fc.integer({ min: 100, max: 9999 }).map((tenth) => tenth / 10);
    fc.assert(
      fc.property(tenths, tenths, fc.constantFrom(0, 0.3, 7.7), (w, h, marginMm) => {
        const choices = [sheet(w + marginMm * 2, h + marginMm * 2, { marginMm, gapMm: 0.1 })];
        const exact = [piece("a", box(w, h), { copies: 3 })];
        const laid = laidAfter(exact, choices, 1);
        expect(faultsOf(exact, choices, laid)).toEqual([]);
        expect(laid.sheets).toHaveLength(3);
        const larger = laidAfter([piece("a", box(w + 1e-5, h), { turn: "half" })], choices, 1);
        expect(larger.sheets).toEqual([]);
        expect(larger.left).toEqual([1]);
        cases++;
      }),
      { seed: 6, numRuns: 50 },
    );
    expect(cases).toBe(50);
  });

  it("as thin as a hair lie beside others", () => {
    const pieces = [piece("a", box(99.99, 100)), piece("b", box(0.01, 50), { copies: 2 })];
    const choices = [sheet(100, 100)];
    const laid = laidAfter(pieces, choices);
    expect(faultsOf(pieces, choices, laid)).toEqual([]);
    expect(laid.sheets).toHaveLength(1);
  });

  it("come to lie the same for the same seed", () => {
    const pieces = [17, 23, 31, 41, 13].map((w, i) =>
      piece(`p${i}`, box(w, 70 - w), { copies: 5 }),
    );
    const once = laidAfter(pieces, [sheet(150, 100), sheet(90, 80)], 6, 4);
    expect(laidAfter(pieces, [sheet(150, 100), sheet(90, 80)], 6, 4)).toEqual(once);
    expect(once.sheets.length).toBeGreaterThan(1);
  });
});

function priced(w: number, h: number, price: number, others: Partial<SheetChoice> = {}) {
  return sheet(w, h, { price: new Amount(price), ...others });
}

describe("the money", () => {
  it("buys a large sheet for the large piece and small ones for the rest", () => {
    const pieces = [piece("a", box(100, 100)), piece("b", box(50, 50), { copies: 2 })];
    const laid = laidAfter(pieces, [priced(100, 100, 100), priced(50, 50, 10)]);
    expect(laid.cost).toBe(120);
  });

  it("takes what is on hand for nothing first", () => {
    const pieces = [piece("b", box(50, 50), { copies: 6 })];
    const choices = [priced(100, 100, 40), priced(100, 50, 0, { onHand: 1 })];
    const laid = laidAfter(pieces, choices);
    expect(laid.cost).toBe(40);
    expect(laid.sheets.map(({ choice }) => choice.id).sort()).toEqual(["100x100", "100x50"]);
  });

  it("is no more than where all sheets are of one size", () => {
    let cheaper = 0;
    const twoOrMore = offers.filter(
      (all) => all.length > 1 && all.every(({ onHand }) => onHand === null),
    );
    fc.assert(
      fc.property(rows, twoOrMore, (pieces, choices) => {
        const mixed = laidAfter(pieces, choices, 4);
        const singles = choices
          .map((choice) => laidAfter(pieces, [choice], 4))
          .filter(({ left }) => left.every((copies) => copies === 0));
        for (const single of singles) {
          expect(mixed.cost).toBeLessThanOrEqual(single.cost);
          if (mixed.cost < single.cost) cheaper++;
        }
      }),
      { seed: 8, numRuns: 12 },
    );
    expect(cheaper).toBeGreaterThan(5);
  });
});

describe("the leftover", () => {
  it("is free: no larger than the largest free rectangle there is", () => {
    let cases = 0;
    fc.assert(
      fc.property(rows, offers, (pieces, choices) => {
        const laid = laidAfter(pieces, choices, 4);
        const last = laid.sheets.at(-1);
        if (last === undefined) return;
        cases++;
        expect(laid.freeMm2).toBeLessThanOrEqual(largestFree(pieces, last) + 1e-3);
      }),
      { seed: 9, numRuns: 25 },
    );
    expect(cases).toBeGreaterThan(20);
  });

  it("is as large as can be where that is known", () => {
    // Four 40 x 30 in a row of 160 leave 160 x 70 of the sheet; no layout leaves more.
    const laid = laidAfter([piece("a", box(40, 30), { copies: 4 })], [sheet(160, 100)], 10);
    expect(laid.freeMm2).toBeCloseTo(160 * 70, 6);
    // 25 quarters of a sheet: the last has one.
    const many = laidAfter([piece("a", box(50, 50), { copies: 25 })], [sheet(100, 100)], 10);
    expect(many.sheets).toHaveLength(7);
    expect(many.freeMm2).toBeCloseTo(100 * 50, 6);
  });
});

describe("a roll", () => {
  it("is cut into lengths as long as allowed, and no more than there is", () => {
    const counted = { lengths: 0, left: 0 };
    const cut = fc.record({
      longestMm: fc.constantFrom(null, 90),
      onHand: fc.constantFrom(null, 0.13, 0.4),
      gapMm: fc.constantFrom(0, 2),
      marginMm: fc.constantFrom(0, 3),
    });
    fc.assert(
      fc.property(rows, cut, (pieces, others) => {
        const choices = [roll(70, others)];
        const laid = laidAfter(pieces, choices, 3);
        expect(faultsOf(pieces, choices, laid)).toEqual([]);
        counted.lengths += laid.sheets.length;
        counted.left += laid.left.reduce((sum, left) => sum + left, 0);
      }),
      { seed: 10, numRuns: 40 },
    );
    expect(counted.lengths).toBeGreaterThan(50);
    expect(counted.left).toBeGreaterThan(20);
  });

  it("is laid alone", () => {
    const { rectangles } = rectanglesOf([outlineOf(piece("a", box(5, 5)))])!;
    const work = layRectangles({ rectangles }, [roll(50), sheet(50, 50)], 1);
    expect(() => work.next()).toThrow(RangeError);
  });
});

describe("published optima", () => {
  it.each([
    // Hopper & Turton, EJOR 128 (2001) 34-57, C1 P1: height, width; 20 by 20 and no waste.
    [20, 20, "2 12,7 12,8 6,3 6,3 5,5 5,3 12,3 7,5 7,2 6,3 2,4 2,3 4,4 4,9 2,11 2"],
    // Moron 1925: nine squares make a rectangle.
    [33, 32, "18,15,14,10,9,8,7,4,1"],
    // Duijvestijn 1978: the least number of different squares that make a square.
    [112, 112, "50,42,37,35,33,29,27,25,24,19,18,17,16,15,11,9,8,7,6,4,2"],
  ])("%i by %i is filled", (w, h, list) => {
    const pieces = list.split(",").map((text, i) => {
      const [a, b] = text.split(" ").map(Number);
      return piece(`p${i}`, box(b ?? a!, a!));
    });
    const choices = [sheet(w, h, { onHand: 1 })];
    const laid = laidAfter(pieces, choices, 200);
    expect(faultsOf(pieces, choices, laid)).toEqual([]);
    expect(laid.left.every((left) => left === 0)).toBe(true);
  });
});

describe("the judge of this folder", () => {
  it("sees a copy moved, and one over the edge", () => {
    const pieces = [piece("a", box(50, 50), { copies: 4 })];
    const [laid] = laidAfter(pieces, [sheet(100, 100)]).sheets;
    expect(boxFaults(pieces, laid!)).toEqual([]);
    const moved = laid!.placed.map((each, i) => (i === 0 ? { ...each, x: each.x + 0.01 } : each));
    expect(boxFaults(pieces, { ...laid!, placed: moved })).not.toEqual([]);
    const all = laid!.placed.map((each) => ({ ...each, y: each.y - 1 }));
    expect(boxFaults(pieces, { ...laid!, placed: all })).toHaveLength(2);
  });
});

/** By cuts across the largest piece so far, each the gap wide. */
function cutUp(
  w: number,
  h: number,
  gapMm: number,
  cuts: readonly (readonly [number, number, boolean])[],
): readonly NestPiece[] {
  const boxes: (readonly [number, number])[] = [[w, h]];
  for (const [which, percent, upright] of cuts) {
    const [own] = boxes.splice(which % boxes.length, 1);
    const [wide, high] = own!;
    const [long, short] = upright ? [wide, high] : [high, wide];
    const first = Math.round(long * percent) / 100;
    const second = long - gapMm - first;
    if (second <= 0.5 || first <= 0.5) boxes.push(own!);
    else for (const part of [first, second]) boxes.push(upright ? [part, short] : [short, part]);
  }
  return boxes.map(([a, b], i) => piece(`p${i}`, i % 2 === 0 ? box(a, b) : box(b, a)));
}

/** Between any four edges; the gap kept to what lies there, mm2. */
function largestFree(pieces: readonly NestPiece[], laid: Parameters<typeof laidBoxes>[1]): number {
  const { widthMm, heightMm, marginMm, gapMm } = laid.choice;
  const boxes = laidBoxes(pieces, laid).map((each) => ({
    minX: each.minX - gapMm,
    minY: each.minY - gapMm,
    maxX: each.maxX + gapMm,
    maxY: each.maxY + gapMm,
  }));
  const within = (edges: readonly number[], end: number): readonly number[] =>
    [...new Set([...edges, marginMm, end])].filter((edge) => edge >= marginMm && edge <= end);
  const xs = within(
    boxes.flatMap(({ minX, maxX }) => [minX, maxX]),
    widthMm - marginMm,
  );
  const [bottom, top] = [marginMm, heightMm! - marginMm];
  let best = 0;
  for (const x0 of xs) {
    for (const x1 of xs.filter((x) => x > x0)) {
      const inWay = boxes
        .filter(({ minX, maxX }) => minX < x1 - 1e-9 && maxX > x0 + 1e-9)
        .sort((a, b) => a.minY - b.minY);
      let from = bottom;
      for (const { minY, maxY } of inWay) {
        best = Math.max(best, (x1 - x0) * (minY - from));
        from = Math.max(from, maxY);
      }
      best = Math.max(best, (x1 - x0) * (top - from));
    }
  }
  return best;
}
