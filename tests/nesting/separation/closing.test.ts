import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Point } from "../../../src/geometry/types.ts";
import { turnsThatFit } from "../../../src/nesting/bed.ts";
import { judge } from "../../../src/nesting/check.ts";
import { fillSheets } from "../../../src/nesting/pass.ts";
import { mostSheets } from "../../../src/nesting/lengths.ts";
import { planFor } from "../../../src/nesting/plan.ts";
import { NoFitCache } from "../../../src/nesting/no-fit.ts";
import { randomFrom } from "../../../src/random.ts";
import { closeUp } from "../../../src/nesting/separation/closing.ts";
import { triedOf, type Tried } from "../../../src/nesting/tried.ts";
import type { NestPiece, SheetChoice } from "../../../src/nesting/types.ts";
import { bedFor, box, piece, ring, roll, shapesFor, sheet } from "../pieces.ts";

/** What a first pass lays, and all better nests found from it with so many depths asked for. */
function closed(
  pieces: readonly NestPiece[],
  choice: SheetChoice,
  most: number,
  seed = 1,
): { readonly first: Tried; readonly better: readonly Tried[] } {
  const shapes = shapesFor(...pieces);
  const random = randomFrom(seed);
  const filling = fillSheets(
    shapes,
    [{ bed: bedFor(choice, shapes), cache: new NoFitCache(), most: mostSheets(choice) }],
    planFor(shapes, 0, random),
  );
  let turn = filling.next();
  while (turn.done !== true) turn = filling.next();
  const filled = turn.value!;
  const first = triedOf(shapes, [choice], filled);
  const better: Tried[] = [];
  if (filled.unplaced.length > 0) return { first, better };
  let spent = 0;
  const turns = shapes.map((shape) => turnsThatFit(shape, choice));
  const loose = { shapes, turns, choice, sheets: filled.sheets, leastSheets: 1, free: true };
  for (const closer of closeUp(loose, random)) {
    if (closer.found !== null) {
      const sheets = closer.found.map((contents) => ({ ...contents, choice }));
      better.push(triedOf(shapes, [choice], { sheets, unplaced: [] }));
    }
    spent += closer.spent;
    if (spent > most) break;
  }
  return { first, better };
}

const size = fc.integer({ min: 12, max: 60 });
const share = fc.integer({ min: 20, max: 80 }).map((percent) => percent / 100);
const hook = fc
  .tuple(size, size, share, share)
  .map(([w, h, a, b]) => ring([0, 0], [w, 0], [w, h * b], [w * a, h * b], [w * a, h], [0, h]));
const star = fc.tuple(size, fc.array(share, { minLength: 3, maxLength: 12 })).map(([w, radii]) =>
  radii.map((radius, i): Point => {
    const angle = (2 * Math.PI * i) / radii.length;
    return { x: w * radius * Math.cos(angle), y: w * radius * Math.sin(angle) };
  }),
);
const framed = fc.tuple(size, size, share).map(([w, h, a]) => ({
  outer: box(w, h),
  holes: [box(w * a, h * a, (w * (1 - a)) / 2, (h * (1 - a)) / 3).toReversed()],
}));
const plain = fc
  .oneof(
    fc.tuple(size, size).map(([w, h]) => box(w, h)),
    hook,
    star,
  )
  .map((outer) => ({ outer, holes: [] }));
const job = fc.array(
  fc.record({
    region: fc.oneof({ weight: 4, arbitrary: plain }, { weight: 1, arbitrary: framed }),
    copies: fc.integer({ min: 1, max: 5 }),
    turn: fc.constantFrom("any", "quarter", "half", "fixed"),
    flip: fc.boolean(),
    flatteningMm: fc.constantFrom(0, 0.05),
  }),
  { minLength: 2, maxLength: 6 },
);
const on = fc
  .record({
    w: fc.integer({ min: 80, max: 160 }),
    h: fc.integer({ min: 80, max: 160 }),
    gapMm: fc.constantFrom(0, 0.5, 3),
    marginMm: fc.constantFrom(0, 5),
    asRoll: fc.boolean(),
  })
  .map(({ w, h, asRoll, ...more }) => (asRoll ? roll(w, more) : sheet(w, h, more)));

describe("closing up a nest", () => {
  it("finds nests that the judge passes, none of them worse than the first", () => {
    const counted = { found: 0, copies: 0, fewer: 0, rolls: 0 };
    fc.assert(
      fc.property(job, on, fc.nat(), (rows, choice, seed) => {
        const pieces = rows.map((row, i): NestPiece => ({ part: `p${i}`, ...row }));
        const { first, better } = closed(pieces, choice, 40_000, seed);
        let sheets = first.nest.sheets.length;
        for (const { nest } of better) {
          expect(judge(pieces, [choice], nest.sheets, nest.unplaced)).toEqual([]);
          expect(nest.sheets.length).toBeLessThanOrEqual(sheets);
          sheets = nest.sheets.length;
          counted.copies += nest.sheets.reduce((sum, { placements }) => sum + placements.length, 0);
        }
        counted.found += better.length;
        if (sheets < first.nest.sheets.length) counted.fewer++;
        if (choice.form === "roll" && better.length > 0) counted.rolls++;
      }),
      { seed: 31, numRuns: 100 },
    );
    expect(counted.found).toBeGreaterThan(50);
    expect(counted.copies).toBeGreaterThan(400);
    expect(counted.fewer).toBeGreaterThan(0);
    expect(counted.rolls).toBeGreaterThan(10);
  });

  it("gives the same nests for the same seed", () => {
    const pieces = [
      piece("hook", ring([0, 0], [30, 0], [30, 8], [8, 8], [8, 30], [0, 30]), { copies: 8 }),
      piece("bar", box(25, 9), { copies: 6 }),
    ];
    const once = closed(pieces, roll(80), 400_000, 5);
    expect(once.better.length).toBeGreaterThan(0);
    expect(closed(pieces, roll(80), 400_000, 5)).toEqual(once);
    expect(closed(pieces, roll(80), 400_000, 6)).not.toEqual(once);
  });

  it("shortens what a first pass lays of a roll, to no less than the area needs", () => {
    const pieces = [
      piece("hook", ring([0, 0], [30, 0], [30, 8], [8, 8], [8, 30], [0, 30]), { copies: 12 }),
    ];
    const { first, better } = closed(pieces, roll(80), 300_000);
    const lengths = better.map(({ nest }) => nest.sheets[0]!.heightMm);
    expect(lengths.at(-1)).toBeLessThan(0.95 * first.nest.sheets[0]!.heightMm);
    expect(lengths.at(-1)).toBeGreaterThan((12 * (30 * 8 + 22 * 8)) / 80);
    expect(lengths).toEqual([...lengths].sort((a, b) => b - a));
  });

  it("does with the one sheet that the pieces were cut from, 2 % larger (derived)", () => {
    // A square of 100 cut up into 9 triangles and quadrangles by lines through it.
    const cut = [
      ring([0, 0], [62, 0], [0, 41]),
      ring([62, 0], [100, 0], [100, 37], [47, 9.92]),
      ring([0, 41], [47, 9.92], [58, 52], [0, 70]),
      ring([0, 70], [58, 52], [40, 100], [0, 100]),
      ring([47, 9.92], [100, 37], [100, 60], [58, 52]),
      ring([100, 60], [100, 100], [74, 100], [58, 52]),
      ring([58, 52], [74, 100], [40, 100]),
    ];
    const pieces = cut.map((outer, i) => piece(`p${i}`, outer));
    const { first, better } = closed(pieces, sheet(102, 102), 3_000_000);
    expect(first.nest.sheets.length).toBeGreaterThan(1);
    expect(better.some(({ nest }) => nest.sheets.length === 1)).toBe(true);
  });
});
