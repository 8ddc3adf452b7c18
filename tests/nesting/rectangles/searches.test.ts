import { describe, expect, it } from "vitest";
import { outlineOf } from "../../../src/nesting/outline.ts";
import { Amount } from "../../../src/money.ts";
import { advanced, rectangleSearches } from "../../../src/nesting/rectangles/searches.ts";
import type { NestPiece, SheetChoice } from "../../../src/nesting/types.ts";
import { box, piece, ring, roll, sheet } from "../pieces.ts";

function searches(pieces: readonly NestPiece[], choices: readonly SheetChoice[]) {
  const bounds = [...choices, null].map(() => new Amount(0));
  return rectangleSearches(pieces.map(outlineOf), choices, bounds, 1);
}

function sizes(...choices: readonly SheetChoice[]): readonly string[] {
  return searches([sign], choices)!.map((search) => search.choices.map(({ id }) => id).join(" + "));
}

const sign = piece("sign", box(300, 80), { copies: 3 });

describe("the searches for rectangles", () => {
  it("are one for each size bought, and one for all sheets where they can be mixed", () => {
    const scrap = sheet(300, 90, { id: "scrap", offcut: true, onHand: 1 });
    expect(sizes(sheet(600, 300))).toEqual(["600x300"]);
    expect(sizes(roll(400), sheet(600, 300))).toEqual(["roll 400", "600x300"]);
    expect(sizes(sheet(600, 300), roll(400), scrap)).toEqual([
      "600x300",
      "roll 400",
      "600x300 + scrap",
    ]);
    expect(sizes(scrap)).toEqual(["scrap"]);
  });

  it("are none where the search for any shapes has more to offer", () => {
    const choices = [sheet(300, 300)];
    expect(searches([sign], choices)).not.toBeNull();
    expect(searches([sign, piece("tri", ring([0, 0], [50, 0], [0, 50]))], choices)).toBeNull();
    // The sign would go into the hole of the frame.
    const hole = box(85, 305, 5, 5);
    const frame = piece("frame", box(95, 315), { region: { outer: box(95, 315), holes: [hole] } });
    expect(searches([sign, frame], [sheet(400, 400)])).toBeNull();
    // 400 x 10 goes on 300 x 300 from corner to corner only.
    const bar = piece("bar", box(400, 10), { turn: "any" });
    expect(searches([bar], choices)).toBeNull();
    expect(searches([{ ...bar, turn: "quarter" }], choices)).not.toBeNull();
  });

  it("give each new nest once, none worse than the first, and that whatever it takes", () => {
    const outlines = [outlineOf(sign)];
    const [search] = searches([sign], [sheet(600, 300)])!;
    const first = ended(advanced(search!, outlines, 0));
    expect(first?.leftOver).toBe(0);
    for (
      let more = ended(advanced(search!, outlines, 1e6));
      more !== null;
      more = ended(advanced(search!, outlines, 1e6))
    )
      expect(more.freeMm2).toBeGreaterThanOrEqual(first!.freeMm2);
    expect(ended(advanced(search!, outlines, 1e6))).toBeNull();
  });
});

function ended<T>(work: Generator<void, T, void>): T {
  let turn = work.next();
  while (turn.done !== true) turn = work.next();
  return turn.value;
}
