import { describe, expect, it } from "vitest";
import { gathered } from "../../../src/nesting/bars/gather.ts";
import { roomLeft, type CutOrder, type Sawing } from "../../../src/nesting/bars/types.ts";

const ORDER: CutOrder = {
  sizes: [600, 500, 300, 250, 100],
  wanted: [1, 1, 1, 1, 1],
  kinds: [{ capacity: 1000, kerf: 0, cost: 1, limit: Infinity }],
};

function rooms(...bars: readonly (readonly number[])[]): readonly number[] {
  const sawing: Sawing = { bars: bars.map((counts) => ({ kind: 0, counts })), missing: [] };
  const after = gathered(sawing, ORDER);
  const pieces = ({ bars: all }: Sawing): readonly number[] =>
    ORDER.sizes.map((_, size) => all.reduce((sum, { counts }) => sum + counts[size]!, 0));
  expect(pieces(after)).toEqual(pieces(sawing));
  return after.bars.map((bar) => roomLeft(bar, ORDER));
}

describe("what is left over (worked by hand)", () => {
  it("grows in one bar when a longer piece goes for a shorter one", () => {
    // 600 + 250 and 500 + 300: 150 and 200 are left; with 300 and 250 changed, 100 and 250.
    expect(rooms([1, 0, 0, 1, 0], [0, 1, 1, 0, 0])).toEqual([100, 250]);
  });

  it("grows in one bar when a piece fits into another", () => {
    expect(rooms([1, 0, 0, 1, 0], [0, 1, 0, 0, 1])).toEqual([50, 500]);
  });

  it("stays where nothing can be changed", () => {
    expect(rooms([1, 0, 1, 0, 1], [0, 1, 0, 1, 0])).toEqual([0, 250]);
    expect(rooms()).toEqual([]);
  });
});
