import { describe, expect, it, vi } from "vitest";
import type * as Pass from "../../src/nesting/pass.ts";
import type { Laid } from "../../src/nesting/filled.ts";
import { box, nest, piece, sheet } from "./pieces.ts";

/** What the search is made to do wrong: nothing, or something to its first sheet. */
let plant: Planted = () => undefined;

type Planted = (placed: Laid[]) => void;

vi.mock("../../src/nesting/pass.ts", async (original) => {
  const pass = await original<typeof Pass>();
  return {
    ...pass,
    *fillSheets(...given: Parameters<typeof Pass.fillSheets>): ReturnType<typeof Pass.fillSheets> {
      const filled = yield* pass.fillSheets(...given);
      const [first, ...others] = filled?.sheets ?? [];
      if (filled === null || first === undefined) return filled;
      const placed = [...first.placed];
      plant(placed);
      return { ...filled, sheets: [{ ...first, placed }, ...others] };
    },
  };
});

const squares = piece("square", box(40, 40), { copies: 4 });
const choice = sheet(100, 100, { marginMm: 5, gapMm: 3 });

function shift(index: number, x: number, y: number): Planted {
  return (placed) => {
    const from = placed[index]!;
    placed[index] = { ...from, x: from.x + x, y: from.y + y };
  };
}

function lose(placed: Laid[]): void {
  placed.pop();
}

function repeat(placed: Laid[]): void {
  placed.push(placed[0]!);
}

describe("a fault of the search", () => {
  it("is none when nothing is planted", () => {
    plant = () => undefined;
    expect(nest([squares], [choice]).best?.sheets).toHaveLength(1);
  });

  it.each([
    ["a piece too near to another", "too close", shift(1, -0.001, 0)],
    ["a piece in the margin", "outside", shift(0, -0.001, 0)],
    ["a piece upon another", "too close", shift(3, 0, -43)],
    ["a piece lost", "count", lose],
    ["a piece twice", "count", repeat],
  ] as const)("is refused: %s", (_, kind, fault) => {
    plant = fault;
    const named = { name: "JudgementError", faults: some({ kind }) };
    expect(() => nest([squares], [choice])).toThrow(expect.objectContaining(named));
  });
});

function some(fault: object): unknown {
  return expect.arrayContaining([expect.objectContaining(fault)]);
}
