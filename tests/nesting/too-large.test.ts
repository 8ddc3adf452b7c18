import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Amount } from "../../src/money.ts";
import { takenBy } from "../../src/nesting/too-large.ts";
import type { NestPiece, SheetChoice } from "../../src/nesting/types.ts";
import type { Turn } from "../../src/job/types.ts";

/** Rectangles and sheets by their sides in mm, with the margin there is inside the sheet. */

function piece([width, height]: readonly [number, number], turn: Turn): NestPiece {
  const outer = [
    { x: 0, y: 0 },
    { x: width, y: 0 },
    { x: width, y: height },
    { x: 0, y: height },
  ];
  const region = { outer, holes: [] };
  return { part: "plate", copies: 1, region, flatteningMm: 0, turn, flip: false };
}

function sheet([width, height]: readonly [number, number], marginMm: number): SheetChoice {
  const size = { widthMm: width + 2 * marginMm, heightMm: height + 2 * marginMm };
  const rest = { longestMm: null, price: new Amount(1), marginMm, gapMm: 3, onHand: null };
  return { id: "sheet", form: "sheet", ...size, ...rest };
}

function fits(
  sides: readonly [number, number],
  turn: Turn,
  inside: readonly [number, number],
  margin = 5,
): boolean {
  return takenBy([piece(sides, turn)], [sheet(inside, margin)])[0]?.[0] ?? false;
}

/**
 * Whether a rectangle p x q lies in one a x b at some angle (W. B. Carver, solution to problem
 * E 1225, The American Mathematical Monthly 64, 1957): from memory of the published condition.
 */
function liesAtSomeAngle(
  piece: readonly [number, number],
  inside: readonly [number, number],
): boolean {
  const [p, q] = [Math.max(...piece), Math.min(...piece)];
  const [a, b] = [Math.max(...inside), Math.min(...inside)];
  if (p <= a) return q <= b;
  return q <= b && ((a + b) / (p + q)) ** 2 + ((a - b) / (p - q)) ** 2 >= 2;
}

function larger([a, b]: readonly [number, number], by: number): readonly [number, number] {
  return [a * by, b * by];
}

function roll(widthMm: number, onHand: number | null): SheetChoice {
  return { ...sheet([widthMm, 1], 5), form: "roll", heightMm: null, onHand };
}

const side = fc.integer({ min: 20, max: 400 });
const sides = fc.tuple(side, side);

describe("whether a sheet takes a rectangle", () => {
  it("is told by its sides where it may not be turned freely", () => {
    const counts = { taken: 0, refused: 0 };
    fc.assert(
      fc.property(sides, sides, fc.integer({ min: 0, max: 15 }), ([w, h], [a, b], margin) => {
        const [upright, across] = [w <= a && h <= b, h <= a && w <= b];
        for (const turn of ["fixed", "half"] as const)
          expect(fits([w, h], turn, [a, b], margin)).toBe(upright);
        expect(fits([w, h], "quarter", [a, b], margin)).toBe(upright || across);
        counts[upright || across ? "taken" : "refused"]++;
      }),
      { seed: 1, numRuns: 300 },
    );
    expect(Math.min(...Object.values(counts))).toBeGreaterThan(80);
  });

  it("is told by Carver's condition where it may be turned freely, within half a degree", () => {
    const counts = { taken: 0, refused: 0, aslant: 0 };
    fc.assert(
      fc.property(
        fc.tuple(fc.integer({ min: 200, max: 520 }), fc.integer({ min: 2, max: 60 })),
        fc.tuple(fc.integer({ min: 200, max: 400 }), fc.integer({ min: 150, max: 400 })),
        (plate, inside) => {
          const taken = fits(plate, "any", inside);
          const [surely, perhaps] = [0.98, 1 + 1e-6].map((by) =>
            liesAtSomeAngle(plate, larger(inside, by)),
          );
          expect([taken && !perhaps, surely && !taken]).toEqual([false, false]);
          counts[taken ? "taken" : "refused"]++;
          if (taken && !fits(plate, "quarter", inside)) counts.aslant++;
        },
      ),
      { seed: 1, numRuns: 400 },
    );
    expect(counts.taken).toBeGreaterThan(100);
    expect(counts.refused).toBeGreaterThan(40);
    expect(counts.aslant).toBeGreaterThan(30);
  });

  it("is told of a roll by its width, and by its length where that is on hand", () => {
    const long = piece([290, 2500], "fixed");
    expect(takenBy([long, piece([310, 20], "fixed")], [roll(300, null), roll(300, 2)])).toEqual([
      [true, false],
      [false, false],
    ]);
  });
});
