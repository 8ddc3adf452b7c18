import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { judge } from "../../src/nesting/check.ts";
import { LEAST_SIDE_MM, leftoverOf } from "../../src/nesting/leftover.ts";
import type { NestedSheet, NestPiece, Placement, SheetChoice } from "../../src/nesting/types.ts";
import { box, nest, piece, ring, roll, sheet } from "./pieces.ts";

const square = piece("square", box(100, 100), { copies: 9 });
const large = sheet(600, 400, { marginMm: 10, gapMm: 3 });

function at(xMm: number, yMm: number, copy: number): Placement {
  return { part: "square", copy, turnDeg: 0, mirrored: false, xMm, yMm };
}

function laid(choice: SheetChoice, ...placements: readonly Placement[]): NestedSheet {
  return {
    sheet: choice.id,
    widthMm: choice.widthMm,
    heightMm: choice.heightMm ?? 500,
    placements,
  };
}

describe("what is left of a nest", () => {
  it("lies inside the margin, the gap away from the pieces", () => {
    const sheets = [laid(large, at(10, 10, 1), at(113, 10, 2))];
    // Over both: 600 - 2 x 10 wide, from 10 + 100 + 3 to 390; beside them 374 x 380 is less.
    expect(leftoverOf([square], { choices: [large], sheets })).toEqual({
      onSheet: 0,
      xMm: 10,
      yMm: 113,
      widthMm: 580,
      heightMm: 277,
    });
  });

  it("keeps clear of the true outline too, and is given in tenths that are free", () => {
    const flattened = { ...square, flatteningMm: 0.04 };
    const sheets = [laid(large, at(10.04, 10.04, 1))];
    // To the right from 10.04 + 100 + 3.04 on: 113.08 is in the tenth below 113.1.
    const left = leftoverOf([flattened], { choices: [large], sheets });
    expect(left).toMatchObject({ xMm: 113.1, yMm: 10, widthMm: 476.9, heightMm: 380 });
  });

  it("is the largest of all sheets, wherever in the order its sheet stands", () => {
    const small = sheet(300, 200, { marginMm: 10, gapMm: 3 });
    const sheets = [
      laid(large, at(10, 10, 1), at(250, 150, 2), at(480, 280, 3)),
      laid(large, at(10, 10, 4)),
      laid(small, at(10, 10, 5)),
    ];
    const left = leftoverOf([square], { choices: [large, small], sheets });
    expect(left).toMatchObject({ onSheet: 1, widthMm: 477, heightMm: 380 });
  });

  it("is nothing on a roll, nor where all that is free is narrower than an offcut", () => {
    const tape = roll(600, { marginMm: 10, gapMm: 3 });
    const onRoll = [laid(tape, at(10, 10, 1))];
    expect(leftoverOf([square], { choices: [tape], sheets: onRoll })).toBeNull();
    const narrow = sheet(120 + LEAST_SIDE_MM, 120, { marginMm: 10, gapMm: 0.1 });
    const full = [laid(narrow, at(10, 10, 1))];
    expect(leftoverOf([square], { choices: [narrow], sheets: full })).toBeNull();
    const wider = { ...narrow, gapMm: 0 };
    expect(leftoverOf([square], { choices: [wider], sheets: full })).toMatchObject({
      widthMm: LEAST_SIDE_MM,
      heightMm: 100,
    });
  });

  it("takes a further piece of its size, with its neighbours turned and mirrored", () => {
    let judged = 0;
    const rows = fc.record({
      long: fc.integer({ min: 20, max: 120 }),
      wide: fc.integer({ min: 10, max: 60 }),
      copies: fc.integer({ min: 1, max: 4 }),
      turn: fc.constantFrom("any", "quarter", "half", "fixed"),
    });
    fc.assert(
      fc.property(fc.array(rows, { minLength: 1, maxLength: 3 }), (all) => {
        const pieces = all.map(({ long, wide, copies, turn }, index): NestPiece => {
          const outer = ring([0, 0], [long, 0], [long * 0.7, wide], [long * 0.1, wide * 0.6]);
          return piece(`p${index}`, outer, { copies, turn, flip: true, flatteningMm: 0.02 });
        });
        const { best } = nest(pieces, [sheet(260, 180, { marginMm: 4, gapMm: 2 })]);
        const left = best === null ? null : leftoverOf(pieces, best);
        if (best === null || left === null) return;
        const { onSheet, xMm, yMm, widthMm, heightMm } = left;
        const more = piece("more", box(widthMm, heightMm), { turn: "fixed" });
        const placed = { part: "more", copy: 1, turnDeg: 0, mirrored: false, xMm, yMm };
        const sheets = best.sheets.map((one, index) =>
          index === onSheet ? { ...one, placements: [...one.placements, placed] } : one,
        );
        expect(judge([...pieces, more], best.choices, sheets, [])).toEqual([]);
        judged++;
      }),
      { seed: 4, numRuns: 40 },
    );
    expect(judged).toBeGreaterThan(30);
  });
});
