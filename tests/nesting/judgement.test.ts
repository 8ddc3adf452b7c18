import { describe, expect, it, vi } from "vitest";
import type * as Pass from "../../src/nesting/pass.ts";
import type * as Rectangles from "../../src/nesting/rectangles/search.ts";
import type { FilledSheet, Laid } from "../../src/nesting/filled.ts";
import { box, nest, piece, ring, sheet } from "./pieces.ts";

/** What the search is made to do wrong: nothing, or something to its first sheet. */
let plant: Planted = () => undefined;

type Planted = (placed: Laid[]) => void;

function planted([first, ...others]: readonly FilledSheet[]): readonly FilledSheet[] {
  if (first === undefined) return [];
  const placed = [...first.placed];
  plant(placed);
  return [{ ...first, placed }, ...others];
}

vi.mock("../../src/nesting/pass.ts", async (original) => {
  const pass = await original<typeof Pass>();
  return {
    ...pass,
    *fillSheets(...given: Parameters<typeof Pass.fillSheets>): ReturnType<typeof Pass.fillSheets> {
      const filled = yield* pass.fillSheets(...given);
      return filled === null ? null : { ...filled, sheets: planted(filled.sheets) };
    },
  };
});

vi.mock("../../src/nesting/rectangles/search.ts", async (original) => {
  const { layRectangles } = await original<typeof Rectangles>();
  return {
    *layRectangles(...given: Parameters<typeof layRectangles>): ReturnType<typeof layRectangles> {
      for (const found of layRectangles(...given))
        yield { ...found, best: { ...found.best, sheets: planted(found.best.sheets) } };
    },
  };
});

const square = piece("square", box(40, 40), { copies: 4 });
/** No rectangle: for the search for any shapes. */
const nicked = piece(
  "nicked",
  ring([0, 0], [40, 0], [40, 15], [30, 15], [30, 25], [40, 25], [40, 40], [0, 40]),
  { copies: 4 },
);
const choice = sheet(93, 93, { marginMm: 5, gapMm: 3 });

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

describe.each([
  ["any shapes", nicked],
  ["rectangles", square],
])("a fault of the search for %s", (_, pieces) => {
  it("is none when nothing is planted", () => {
    plant = () => undefined;
    expect(nest([pieces], [choice]).best?.sheets).toHaveLength(1);
  });

  it.each([
    ["a piece too near to another", "too close", shift(1, -0.001, -0.001)],
    ["a piece in the margin", "outside", shift(0, -0.001, 0)],
    ["a piece upon another", "too close", shift(3, 0, -43)],
    ["a piece lost", "count", lose],
    ["a piece twice", "count", repeat],
  ] as const)("is refused: %s", (__, kind, fault) => {
    plant = fault;
    const named = { name: "JudgementError", faults: some({ kind }) };
    expect(() => nest([pieces], [choice])).toThrow(expect.objectContaining(named));
  });
});

function some(fault: object): unknown {
  return expect.arrayContaining([expect.objectContaining(fault)]);
}
