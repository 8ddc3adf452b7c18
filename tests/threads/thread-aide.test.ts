import { describe, expect, it } from "vitest";
import { nestPieces } from "../../src/nesting/nest.ts";
import { beginAide } from "../../src/threads/thread-aide.ts";
import { box, piece, ring, roll } from "../nesting/pieces.ts";
import { drain } from "../helpers/drain.ts";

const HOOK = ring([0, 0], [30, 0], [30, 8], [8, 8], [8, 30], [0, 30]);
const PIECES = [piece("hook", HOOK, { copies: 7 }), piece("bar", box(25, 9), { copies: 6 })];

describe("an aide on another thread", () => {
  it("makes no difference to the nest, only to the time", () => {
    const aide = beginAide();
    const options = { seed: 3, steps: 5 };
    try {
      const alone = drain(nestPieces("test", PIECES, [roll(80)], options));
      const helped = drain(nestPieces("test", PIECES, [roll(80)], { ...options, aide }));
      expect(helped).toEqual(alone);
      // Closing up had something to do.
      const first = drain(nestPieces("test", PIECES, [roll(80)], { ...options, steps: 2 }));
      expect(alone.best!.sheetCost.lt(first.best!.sheetCost)).toBe(true);
    } finally {
      aide.close();
    }
  });

  it("answers the last order where an older one was given up", () => {
    const aide = beginAide();
    const order = { lane: "none", from: null, seed: 1, most: 1 };
    try {
      aide.order(order);
      aide.order({ ...order, lane: "another" });
      expect(aide.answer()).toEqual({ found: null, ended: true });
    } finally {
      aide.close();
    }
  });

  it("says when it has nothing to answer", () => {
    const aide = beginAide();
    expect(() => aide.answer()).toThrow("no order");
    aide.close();
  });
});
