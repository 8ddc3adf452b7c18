import { describe, expect, it } from "vitest";
import type { PartGeometry } from "../../src/drawing/types.ts";
import { flattenPath } from "../../src/geometry/flatten.ts";
import { circlePath, pathArea, pathLength, polylinePath } from "../../src/geometry/path.ts";
import type { Path } from "../../src/geometry/types.ts";
import { operationsOf, placedLines, sheetWork } from "../../src/machine/work.ts";
import type { NestedSheet, Placement } from "../../src/nesting/types.ts";
import { corners, feed, machine, ROW } from "./samples.ts";

const flag: Path = polylinePath(
  [
    { x: 0, y: 0 },
    { x: 40, y: 0 },
    { x: 40, y: 10 },
    { x: 0, y: 30 },
  ],
  true,
);

const geometry: PartGeometry = {
  part: "flag",
  place: ROW.place,
  outline: flag,
  holes: [circlePath({ x: 10, y: 10 }, 2)],
  scores: [],
  engravings: [],
  drawnTwice: [],
  region: { outer: flattenPath(flag, 0.05), holes: [] },
  flatteningMm: 0.05,
  areaMm2: pathArea(flag) - Math.PI * 4,
  cutLengthMm: pathLength(flag) + Math.PI * 4,
  roundHoles: [],
};

const sheetOf = (...placements: Placement[]): NestedSheet => ({
  sheet: "s",
  widthMm: 600,
  heightMm: 400,
  placements,
});

const at = (pose: Partial<Placement>): Placement => ({
  part: "flag",
  copy: 1,
  turnDeg: 0,
  mirrored: false,
  xMm: 0,
  yMm: 0,
  ...pose,
});

const byPart = new Map([["flag", geometry]]);

describe("placedLines", () => {
  it("mirrors, then turns, then moves", () => {
    const [lines] = placedLines(
      sheetOf(at({ mirrored: true, turnDeg: 90, xMm: 100, yMm: 50 })),
      byPart,
    );
    // By hand: x,y mirrored is -x,y; a quarter turn makes that -y,-x; then 100,50 is added.
    expect(corners(lines!.outline)).toEqual([
      { x: 100, y: 50 },
      { x: 100, y: 10 },
      { x: 90, y: 10 },
      { x: 70, y: 50 },
      { x: 100, y: 50 },
    ]);
    expect(Math.abs(pathArea(lines!.holes[0]!))).toBeCloseTo(Math.PI * 4, 9);
  });

  it("keeps the order of the placements and fails for a part that nobody drew", () => {
    const lines = placedLines(sheetOf(at({ copy: 2 }), at({ copy: 1 })), byPart);
    expect(lines.map(({ copy }) => copy)).toEqual([2, 1]);
    expect(() => placedLines(sheetOf(at({ part: "ghost" })), byPart)).toThrow(RangeError);
  });
});

describe("sheetWork", () => {
  it("takes the feeds of the operations that occur", () => {
    const feeds = [feed("engrave", 300), feed("cut", 12), feed("score", 90)];
    const work = sheetWork(sheetOf(at({})), byPart, feeds, machine(), "twice");
    expect(work.feeds.map(({ operation }) => operation)).toEqual(["cut"]);
    expect(work.sheet).toBe("s");
  });

  it("finds operations in the order of work", () => {
    expect(operationsOf([{ scores: [flag], engravings: [flag] }])).toEqual([
      "engrave",
      "score",
      "cut",
    ]);
    expect(operationsOf([{ scores: [], engravings: [] }])).toEqual(["cut"]);
    expect(operationsOf([])).toEqual([]);
  });
});
