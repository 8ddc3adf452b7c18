import * as fc from "fast-check";
import polygonClipping from "polygon-clipping";
import { describe, expect, it } from "vitest";
import type { Ring } from "../../src/geometry/types.ts";
import { ringArea } from "../../src/geometry/ring.ts";
import { Amount } from "../../src/money.ts";
import { judge } from "../../src/nesting/check.ts";
import { leftoverOf } from "../../src/nesting/leftover.ts";
import type { NestedSheet, NestOutcome, NestPiece, SheetChoice } from "../../src/nesting/types.ts";
import { box, lies, nest, piece, ring, sheet } from "./pieces.ts";

/** Offcuts that are no rectangles. Areas of overlap by polygon-clipping (Martinez et al. 2009). */

/** An L: 300 x 300 less its upper right quarter. */
const L = ring([0, 0], [300, 0], [300, 150], [150, 150], [150, 300], [0, 300]);

function offcut(outer: Ring, holes: readonly Ring[], more: Partial<SheetChoice> = {}): SheetChoice {
  const [widthMm, heightMm] = [
    Math.max(...outer.map(({ x }) => x)),
    Math.max(...outer.map(({ y }) => y)),
  ];
  return sheet(widthMm, heightMm, {
    id: "odd",
    price: new Amount(0),
    onHand: 1,
    offcut: true,
    outline: { region: { outer, holes }, flatteningMm: 0 },
    ...more,
  });
}

function placedOn(outcome: NestOutcome, id: string): number {
  const sheets = outcome.best?.sheets ?? [];
  return sheets
    .filter((one) => one.sheet === id)
    .reduce((sum, { placements }) => sum + placements.length, 0);
}

const square = (copies: number): NestPiece => piece("square", box(100, 100), { copies });
const bought = sheet(400, 400, { id: "bought", price: new Amount(20) });

/** The square alone on the odd sheet. */
function at({ outline }: SheetChoice, xMm: number, yMm: number): readonly NestedSheet[] {
  const placement = { part: "square", copy: 1, turnDeg: 0, mirrored: false, xMm, yMm };
  const plain = { sheet: "odd", widthMm: 300, heightMm: 300, placements: [placement] };
  return [outline === undefined ? plain : { ...plain, outline: outline.region }];
}

describe("an odd-shaped offcut", () => {
  it("takes what goes into its shape, no more", () => {
    // Three squares along each arm, the one in the corner counted twice.
    const outcome = nest([square(5)], [offcut(L, []), bought]);
    expect(placedOn(outcome, "odd")).toBe(5);
    expect(outcome.best?.sheetCost.toString()).toBe("0");
    const six = nest([square(6)], [offcut(L, []), bought], { steps: 3 });
    expect(six.best?.sheetCost.toString()).toBe("20");
  });

  it("has its holes kept free, and a piece fits into what is beside them", () => {
    const hole = box(100, 100, 100, 100).toReversed();
    const frame = offcut(box(300, 300), [hole]);
    expect(placedOn(nest([square(8)], [frame, bought]), "odd")).toBe(8);
    const large = piece("large", box(150, 150));
    expect(nest([large], [frame, bought]).best?.sheets[0]?.sheet).toBe("bought");
  });

  it("keeps its margin all around, as the judge sees it", () => {
    const kept = { marginMm: 10, gapMm: 4 };
    const arm = piece("arm", box(280, 130), { turn: "fixed" });
    expect(placedOn(nest([arm], [offcut(L, [], kept), { ...bought, ...kept }]), "odd")).toBe(1);
    const wide = piece("wide", box(280, 130.1), { turn: "fixed" });
    expect(placedOn(nest([wide], [offcut(L, [], kept), { ...bought, ...kept }]), "odd")).toBe(0);
  });

  it("is judged by its outline, not by its box", () => {
    const pieces = [square(1)];
    const choice = offcut(L, [box(20, 20, 20, 200).toReversed()]);
    expect(judge(pieces, [choice], at(choice, 50, 50), [])).toEqual([]);
    expect(judge(pieces, [choice], at(choice, 200, 200), [])).toHaveLength(1);
    expect(judge(pieces, [choice], at(choice, 51, 51), [])).toHaveLength(1);
    // Measured by another outline than that of the offcut.
    expect(judge(pieces, [choice], at(bought, 50, 50), [])).toHaveLength(1);
    // Around the hole, which touches no edge of it.
    expect(judge(pieces, [choice], at(choice, 0, 170), [])).toHaveLength(1);
  });

  it("leaves a rectangle that is sheet all over", () => {
    const pieces = [square(1)];
    const outcome = nest(pieces, [offcut(L, []), bought]);
    const left = leftoverOf(pieces, outcome.best!)!;
    // All of one arm, with the square in the corner that belongs to both at an end of it.
    expect(left.widthMm * left.heightMm).toBe(30_000);
  });

  it("never lets a piece out, whatever its shape", () => {
    let judged = 0;
    fc.assert(
      fc.property(
        offcutArbitrary,
        pieceArbitrary,
        fc.integer({ min: 1, max: 2 }),
        (odd, pieces, steps) => {
          const outcome = nest(
            pieces,
            [odd, { ...bought, marginMm: odd.marginMm, gapMm: odd.gapMm }],
            { steps },
          );
          for (const { sheet: id, placements } of outcome.best?.sheets ?? []) {
            if (id !== "odd") continue;
            const { outer, holes } = odd.outline!.region;
            const stock = [outer, ...holes].map(pairs);
            for (const placement of placements) {
              const { region } = pieces.find(({ part }) => part === placement.part)!;
              const laid = region.outer.map((point) => lies(point, placement));
              const out = polygonClipping.difference([pairs(laid)], stock);
              expect(areaOf(out)).toBeLessThan(1e-3);
              judged++;
            }
          }
        },
      ),
      { numRuns: 40, seed: 7 },
    );
    expect(judged).toBeGreaterThan(60);
  });
});

function pairs(points: Ring): [number, number][] {
  return points.map(({ x, y }) => [x, y]);
}

function areaOf(polygons: readonly (readonly (readonly [number, number])[][])[]): number {
  return polygons
    .flat()
    .reduce((sum, points) => sum + Math.abs(ringArea(points.map(([x, y]) => ({ x, y })))), 0);
}

/** Stars about a middle, with or without a hole in it, moved to 0,0. */
const offcutArbitrary = fc
  .record({
    reach: fc.array(fc.double({ min: 0.35, max: 1, noNaN: true }), { minLength: 3, maxLength: 14 }),
    hole: fc.boolean(),
    marginMm: fc.constantFrom(0, 5),
    gapMm: fc.constantFrom(0, 2, 3),
  })
  .map(({ reach, hole, marginMm, gapMm }) => {
    const spoke = (share: number, index: number): { x: number; y: number } => {
      const angle = (2 * Math.PI * index) / reach.length;
      return { x: 250 * share * Math.cos(angle), y: 250 * share * Math.sin(angle) };
    };
    const star = reach.map(spoke);
    const [minX, minY] = [Math.min(...star.map(({ x }) => x)), Math.min(...star.map(({ y }) => y))];
    const moved = (points: Ring): Ring => points.map(({ x, y }) => ({ x: x - minX, y: y - minY }));
    const inner = reach.map((share, index) => spoke(share * 0.2, index)).toReversed();
    return offcut(moved(star), hole ? [moved(inner)] : [], { marginMm, gapMm });
  });

const pieceArbitrary = fc
  .array(
    fc.record({
      width: fc.integer({ min: 15, max: 90 }),
      height: fc.integer({ min: 15, max: 60 }),
      cut: fc.double({ min: 0, max: 0.9, noNaN: true }),
      copies: fc.integer({ min: 1, max: 5 }),
      turn: fc.constantFrom("any", "quarter", "half", "fixed"),
    }),
    { minLength: 1, maxLength: 3 },
  )
  .map((list) =>
    list.map(({ width, height, cut, copies, turn }, index): NestPiece => {
      const outer = ring(
        [0, 0],
        [width, 0],
        [width, height * (1 - cut)],
        [width / 2, height],
        [0, height],
      );
      return piece(`p${index}`, outer, { copies, turn });
    }),
  );
