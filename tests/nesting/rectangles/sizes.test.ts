import { describe, expect, it } from "vitest";
import { outlineOf } from "../../../src/nesting/outline.ts";
import { rectanglesOf } from "../../../src/nesting/rectangles/sizes.ts";
import type { NestPiece } from "../../../src/nesting/types.ts";
import { box, piece, ring } from "../pieces.ts";

function read(...pieces: readonly NestPiece[]) {
  return rectanglesOf(pieces.map(outlineOf));
}

/** 30 by 40 at a slope of 3 to 4: its sides are whole numbers, its corners too. */
const SLANTED = ring([0, 0], [24, 18], [0, 50], [-24, 32]);

describe("pieces as rectangles", () => {
  it("have the sides of their outline, the flattening on each", () => {
    const flat = read(piece("a", box(30, 20, 5, -7), { flatteningMm: 0.5 }))!.rectangles[0]!;
    expect([flat.widthMm, flat.heightMm]).toEqual([31, 21]);
    expect(flat.ways.map(({ turnDeg }) => turnDeg)).toEqual([0, 90]);
  });

  it.each([
    ["any", [0, 90]],
    ["quarter", [0, 90]],
    ["half", [0]],
    ["fixed", [0]],
  ] as const)("turned %s have as many ways to lie", (turn, angles) => {
    const [rectangle] = read(piece("a", box(30, 20), { turn }))!.rectangles;
    expect(rectangle!.ways.map(({ turnDeg }) => turnDeg)).toEqual(angles);
  });

  it("that are square lie in one way", () => {
    expect(read(piece("a", box(20, 20)))!.rectangles[0]!.ways).toHaveLength(1);
  });

  it("drawn aslant are straightened where any angle is allowed, and there alone", () => {
    const rectangle = read(piece("a", SLANTED, { turn: "any" }))!.rectangles[0]!;
    const sides = [rectangle.widthMm, rectangle.heightMm].sort((a, b) => a - b);
    expect(sides[0]).toBeCloseTo(30, 9);
    expect(sides[1]).toBeCloseTo(40, 9);
    expect(read(piece("a", SLANTED))).toBeNull();
  });

  it("may have rounded corners and noise, not notches and slopes", () => {
    const rounded = ring([3, 0], [97, 0], [100, 3], [100, 57], [97, 60], [3, 60], [0, 57], [0, 3]);
    expect(read(piece("a", rounded))).not.toBeNull();
    expect(read(piece("a", ring([0, 0], [100, 1e-4], [100, 60], [1e-4, 60])))).not.toBeNull();
    expect(
      read(piece("a", ring([0, 0], [100, 0], [100, 60], [10, 60], [10, 50], [0, 50]))),
    ).toBeNull();
    expect(read(piece("a", ring([0, 0], [100, 2], [100, 60], [0, 60])))).toBeNull();
    expect(read(piece("a", box(100, 60)), piece("b", ring([0, 0], [9, 0], [0, 9])))).toBeNull();
  });

  it("say whether a hole could have taken another", () => {
    const frame = piece("frame", box(100, 60), {
      region: { outer: box(100, 60), holes: [box(40, 30, 10, 10).toReversed()] },
    });
    expect(read(frame, piece("a", box(50, 50)))!.hollow).toBe(false);
    expect(read(frame, piece("a", box(20, 20)))!.hollow).toBe(true);
    expect(read(piece("a", box(20, 20)))!.hollow).toBe(false);
  });
});
