import { describe, expect, it } from "vitest";
import { judge } from "../../src/nesting/check.ts";
import type {
  Fault,
  NestPiece,
  NestedSheet,
  Placement,
  SheetChoice,
} from "../../src/nesting/types.ts";
import { box, piece, ring, sheet } from "./pieces.ts";

/** Each test plants one fault beside a nest that passes: the judge must tell the two apart. */

const square = piece("square", box(100, 100), { copies: 2 });
const frame: NestPiece = {
  ...piece("frame", box(100, 100)),
  region: { outer: box(100, 100), holes: [box(60, 60, 20, 20).toReversed()] },
};
const small = piece("small", box(20, 20));

function at(part: string, xMm: number, yMm: number, more: Partial<Placement> = {}): Placement {
  return { part, copy: 1, turnDeg: 0, mirrored: false, xMm, yMm, ...more };
}

function verdict(
  pieces: readonly NestPiece[],
  choice: SheetChoice,
  placements: readonly Placement[],
  more: Partial<NestedSheet> = {},
): readonly Fault[] {
  const { id, widthMm, heightMm } = choice;
  const lain = { sheet: id, widthMm, heightMm: heightMm ?? 500, placements, ...more };
  return judge(pieces, [choice], [lain], []);
}

function laid(of: SheetChoice, placements: readonly Placement[]): NestedSheet {
  return { sheet: of.id, widthMm: of.widthMm, heightMm: of.heightMm!, placements };
}

/** The first square in the corner of the margin, the second where it is said. */
function two(x: number, y = 10): readonly Placement[] {
  return [at("square", 10, 10), at("square", x, y, { copy: 2 })];
}

function kinds(faults: readonly Fault[]): readonly string[] {
  return faults.map(({ kind }) => kind);
}

describe("the judge of gaps", () => {
  const choice = sheet(600, 400, { marginMm: 10, gapMm: 3 });
  it("passes a gap kept to the hair, and faults one too small by 0.01 mm", () => {
    expect(verdict([square], choice, two(113))).toEqual([]);
    expect(kinds(verdict([square], choice, two(112.99)))).toEqual(["too close"]);
  });

  it("measures gaps across corners along the straight line between them", () => {
    // 3-4-5 over 10: 1.8 and 2.4 apart along the axes are 3 mm apart.
    expect(verdict([square], choice, two(111.8, 112.4))).toEqual([]);
    expect(kinds(verdict([square], choice, two(111.8, 112.39)))).toEqual(["too close"]);
  });

  it("faults an overlap, and one piece upon another in the very same place", () => {
    expect(kinds(verdict([square], choice, two(60, 60)))).toEqual(["too close"]);
    expect(kinds(verdict([square], choice, two(10, 10)))).toEqual(["too close"]);
  });

  it("adds the flattening of both outlines to the gap", () => {
    const curved = { ...square, flatteningMm: 0.05 };
    const first = at("square", 10.05, 10.05);
    const both = (x: number) => [first, at("square", x, 10.05, { copy: 2 })];
    expect(verdict([curved], choice, both(113.15))).toEqual([]);
    expect(kinds(verdict([curved], choice, both(113.14)))).toEqual(["too close"]);
  });

  it("lets a piece lie in a hole with the gap around it, not nearer, not in the material", () => {
    const pieces = [frame, small];
    const around = at("frame", 10, 10);
    const lain = (x: number) => verdict(pieces, choice, [around, at("small", x, 50)]);
    expect(lain(33)).toEqual([]);
    expect(kinds(lain(32.99))).toEqual(["too close"]);
  });

  it("faults a piece wholly inside the material of another, without an edge crossed", () => {
    const big = piece("big", box(200, 200));
    const inside = [at("big", 10, 10), at("small", 100, 100)];
    expect(kinds(verdict([big, small], choice, inside))).toEqual(["too close"]);
    expect(kinds(verdict([small, big], choice, inside.toReversed()))).toEqual(["too close"]);
  });
});

describe("the judge of pieces that may touch", () => {
  const choice = sheet(600, 400);
  const judged = (pieces: readonly NestPiece[], placements: readonly Placement[]) =>
    kinds(verdict(pieces, choice, placements));

  it("passes shared edges, shared corners and a hole filled to the rim", () => {
    const beside = (x: number, y: number) =>
      judged([square], [at("square", 0, 0), at("square", x, y, { copy: 2 })]);
    expect(beside(100, 0)).toEqual([]);
    expect(beside(100, 37)).toEqual([]);
    expect(beside(100, 100)).toEqual([]);
    const plug = piece("plug", box(60, 60));
    expect(judged([frame, plug], [at("frame", 0, 0), at("plug", 20, 20)])).toEqual([]);
  });

  it.each([
    ["edges crossing", at("square", 99.9, 50, { copy: 2 })],
    ["edges upon edges, no corner inside", at("square", 0, 50, { copy: 2 })],
    ["the same place", at("square", 0, 0, { copy: 2 })],
    ["a hundredth too near", at("square", 99.99, 0, { copy: 2 })],
  ])("faults %s", (_, second) => {
    expect(judged([square], [at("square", 0, 0), second])).toEqual(["too close"]);
  });

  it("faults a piece in the material of another, and a cross of two bars", () => {
    const big = piece("big", box(200, 200));
    expect(judged([big, small], [at("big", 0, 0), at("small", 50, 50)])).toEqual(["too close"]);
    const bars = [piece("flat", box(100, 10)), piece("tall", box(10, 100))];
    expect(judged(bars, [at("flat", 0, 45), at("tall", 45, 0)])).toEqual(["too close"]);
  });

  it("faults a corner pushed through a corner", () => {
    const kite = piece("kite", ring([0, 0], [10, -10], [20, 0], [10, 10]), { copies: 2 });
    const beside = (x: number) =>
      judged([kite], [at("kite", 0, 10), at("kite", x, 10, { copy: 2 })]);
    expect(beside(20)).toEqual([]);
    expect(beside(19.99)).toEqual(["too close"]);
  });
});

describe("the judge of sheets, counts and turns", () => {
  const choice = sheet(600, 400, { marginMm: 10, gapMm: 3, onHand: 1 });
  const one = piece("one", box(100, 50));

  it.each([
    ["left", 9.99, 10],
    ["lower", 10, 9.99],
    ["right", 490.01, 10],
    ["upper", 10, 340.01],
  ])("faults a piece over the %s margin by 0.01 mm", (_, x, y) => {
    expect(verdict([one], choice, [at("one", 490, 340)])).toEqual([]);
    expect(kinds(verdict([one], choice, [at("one", x, y)]))).toEqual(["outside"]);
  });

  it("faults places that are no numbers", () => {
    expect(kinds(verdict([one], choice, [at("one", NaN, 10)]))).toContain("outside");
    const turned = [at("one", 10, 10, { turnDeg: NaN })];
    expect(kinds(verdict([one], choice, turned))).toContain("turn");
  });

  it("faults copies missing, placed twice, unheard of, or placed and left over at once", () => {
    const first = at("square", 10, 10);
    expect(kinds(verdict([square], choice, [first]))).toEqual(["count"]);
    const twice = [first, at("square", 200, 10)];
    expect(kinds(verdict([square], choice, twice))).toEqual(["count"]);
    const third = [first, at("square", 200, 10, { copy: 3 })];
    expect(kinds(verdict([square], choice, third))).toEqual(["count"]);
    expect(kinds(verdict([], choice, [first]))).toEqual(["count"]);
    const laid = { sheet: choice.id, widthMm: 600, heightMm: 400, placements: [first] };
    const left = { part: "square", copies: 1, reason: "no room" };
    expect(judge([square], [choice], [laid], [left])).toEqual([]);
    expect(kinds(judge([square], [choice], [laid], [{ ...left, copies: 2 }]))).toEqual(["count"]);
  });

  it.each([
    ["fixed", [0, 360, -360], [180, 90, 0.001]],
    ["half", [0, 180, -180], [90, 45, 179.999]],
    ["quarter", [0, 90, 180, 270, -90], [45, 1, 89.999]],
    ["any", [0, 12.345], []],
  ] as const)("allows a %s piece only its turns", (turn, allowed, forbidden) => {
    const turned = { ...one, turn };
    const found = (turnDeg: number) =>
      kinds(verdict([turned], choice, [at("one", 200, 200, { turnDeg })]));
    for (const turnDeg of allowed) expect(found(turnDeg)).toEqual([]);
    for (const turnDeg of forbidden) expect(found(turnDeg)).toEqual(["turn"]);
  });

  it("faults a mirrored piece unless it may be flipped", () => {
    const mirrored = [at("one", 200, 200, { mirrored: true })];
    expect(kinds(verdict([one], choice, mirrored))).toEqual(["turn"]);
    expect(verdict([{ ...one, flip: true }], choice, mirrored)).toEqual([]);
  });

  it("faults more sheets than there are, another size and another name", () => {
    const laid = { sheet: choice.id, widthMm: 600, heightMm: 400, placements: [] };
    const squares = [at("square", 10, 10), at("square", 10, 10, { copy: 2 })];
    const sheets = squares.map((each) => ({ ...laid, placements: [each] }));
    expect(kinds(judge([square], [choice], sheets, []))).toEqual(["sheet"]);
    expect(judge([square], [{ ...choice, onHand: 2 }], sheets, [])).toEqual([]);
    const single = [at("one", 10, 10)];
    expect(kinds(verdict([one], choice, single, { heightMm: 401 }))).toEqual(["sheet"]);
    expect(kinds(verdict([one], choice, single, { sheet: "other" }))).toEqual(["sheet"]);
  });

  it("holds each sheet of a mix to its own size, margin, gap and stock", () => {
    const wide = { ...sheet(700, 400, { marginMm: 20, gapMm: 6 }), id: "wide" };
    const narrow = { ...choice, id: "narrow" };
    const [near, far] = [at("square", 10, 10), at("square", 20, 20, { copy: 2 })];
    const judged = (sheets: readonly NestedSheet[]) =>
      kinds(judge([square], [narrow, wide], sheets, []));
    expect(judged([laid(narrow, [near]), laid(wide, [far])])).toEqual([]);
    expect(judged([laid(wide, [near]), laid(narrow, [far])])).toEqual(["outside"]);
    const apart = (x: number) => [at("square", 20, 20), at("square", x, 20, { copy: 2 })];
    expect(judged([laid(narrow, apart(123))])).toEqual([]);
    expect(judged([laid(wide, apart(123))])).toEqual(["too close"]);
    // One of the narrow ones is on hand, and as many of the wide ones as one likes.
    expect(judged([laid(narrow, [near]), laid(narrow, [far])])).toEqual(["sheet"]);
    expect(judged([laid(narrow, [near]), { ...laid(wide, [far]), widthMm: 600 }])).toEqual([
      "sheet",
    ]);
  });

  it("allows no more of a roll than is on hand", () => {
    const strip: SheetChoice = { ...choice, form: "roll", heightMm: null, onHand: 0.5 };
    const single = [at("one", 10, 10)];
    expect(verdict([one], strip, single)).toEqual([]);
    expect(kinds(verdict([one], strip, single, { heightMm: 501 }))).toEqual(["sheet"]);
  });
});
