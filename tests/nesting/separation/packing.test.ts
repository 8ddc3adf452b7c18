import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { judge } from "../../../src/nesting/check.ts";
import { randomFrom } from "../../../src/random.ts";
import { KeptModel } from "../../../src/nesting/separation/model.ts";
import { pack } from "../../../src/nesting/separation/packing.ts";
import { triedOf } from "../../../src/nesting/tried.ts";
import type { NestPiece, SheetChoice } from "../../../src/nesting/types.ts";
import { box, piece, ring, shapesFor, sheet } from "../pieces.ts";

/** What lies on the sheets, one of each choice, once all are parted; null when that takes too long. */
function packed(pieces: readonly NestPiece[], sheets: readonly SheetChoice[], most: number) {
  const shapes = shapesFor(...pieces);
  const load = {
    shapes,
    turns: shapes.map(({ turns }) => turns),
    copies: pieces.map(({ copies }) => copies),
    sheets,
  };
  const packing = pack(load, randomFrom(1), new KeptModel());
  let spent = 0;
  let turn = packing.next();
  for (; turn.done !== true && spent < most; turn = packing.next()) spent += turn.value;
  if (turn.done !== true || turn.value === null) return null;
  return triedOf(shapes, sheets, { sheets: turn.value, unplaced: [] }).nest;
}

describe("copies strewn on sheets of several sizes", () => {
  it("are parted so that the judge has nothing to say", () => {
    let [done, placed] = [0, 0];
    const size = fc.integer({ min: 15, max: 45 });
    const row = fc.record({
      w: size,
      h: size,
      kind: fc.nat(2),
      copies: fc.integer({ min: 1, max: 4 }),
      turn: fc.constantFrom("any", "quarter", "half", "fixed"),
      flip: fc.boolean(),
      flatteningMm: fc.constantFrom(0, 0.05),
    });
    fc.assert(
      fc.property(fc.array(row, { minLength: 2, maxLength: 4 }), fc.nat(3), (rows, gapMm) => {
        const pieces = rows.map(({ w, h, kind, ...more }, i) => {
          const outers = [
            box(w, h),
            ring([0, 0], [w, 0], [w, h / 3], [w / 3, h / 3], [w / 3, h], [0, h]),
            ring([0, 0], [w, h / 4], [w / 3, h]),
          ];
          return piece(`p${i}`, outers[kind]!, more);
        });
        const sheets = [
          sheet(120, 90, { gapMm, marginMm: 2 }),
          sheet(70, 140, { gapMm, marginMm: 5 }),
          sheet(60, 60, { gapMm }),
        ];
        const nest = packed(pieces, sheets, 1_500_000);
        if (nest === null) return;
        expect(judge(pieces, sheets, nest.sheets, [])).toEqual([]);
        done++;
        placed += nest.sheets.reduce((sum, { placements }) => sum + placements.length, 0);
      }),
      { seed: 3, numRuns: 40 },
    );
    expect(done).toBeGreaterThan(30);
    expect(placed).toBeGreaterThan(150);
  });

  it("go where they fit: two sheets that each take one of the pieces", () => {
    const pieces = [piece("bar", box(180, 20), { turn: "fixed" }), piece("disc", box(70, 70))];
    const sheets = [sheet(200, 30, { id: "long" }), sheet(80, 80, { id: "square" })];
    const nest = packed(pieces, sheets, 1_000_000);
    expect(nest?.sheets.map(({ sheet: id, placements }) => [id, placements[0]?.part])).toEqual([
      ["long", "bar"],
      ["square", "disc"],
    ]);
  });

  it("are given up at once where one fits no sheet", () => {
    expect(packed([piece("bar", box(300, 20))], [sheet(200, 30)], 1e6)).toBeNull();
  });
});
