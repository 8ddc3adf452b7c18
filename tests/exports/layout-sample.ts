import type { PartGeometry } from "../../src/drawing/types.ts";
import type { NestedStock } from "../../src/estimate-data.ts";
import { flattenPath } from "../../src/geometry/flatten.ts";
import {
  circlePath,
  pathArea,
  pathLength,
  polylinePath,
  reversePath,
} from "../../src/geometry/path.ts";
import type { Path } from "../../src/geometry/types.ts";
import type { Placement } from "../../src/nesting/types.ts";

/** A sheet with parts that show at once when something is mirrored, turned or lost. */

/** A heel of lines, a bend of two arcs, and a beak of a cubic: no two sides alike. */
const CURVED: Path = {
  start: { x: 0, y: 0 },
  segments: [
    { kind: "line", to: { x: 60, y: 0 } },
    { kind: "arc", to: { x: 70, y: 10 }, centre: { x: 60, y: 10 }, sweepRad: Math.PI / 2 },
    { kind: "cubic", control1: { x: 70, y: 40 }, control2: { x: 30, y: 25 }, to: { x: 20, y: 45 } },
    { kind: "arc", to: { x: 0, y: 45 }, centre: { x: 10, y: 45 }, sweepRad: -Math.PI },
    { kind: "line", to: { x: 0, y: 0 } },
  ],
  closed: true,
};

/** Lines and arcs only, one of them over more than half a turn. */
const ROUNDED: Path = {
  start: { x: 0, y: 0 },
  segments: [
    { kind: "line", to: { x: 50, y: 0 } },
    { kind: "line", to: { x: 50, y: 20 } },
    { kind: "arc", to: { x: 40, y: 30 }, centre: { x: 50, y: 30 }, sweepRad: (3 * Math.PI) / 2 },
    { kind: "line", to: { x: 0, y: 30 } },
    { kind: "line", to: { x: 0, y: 0 } },
  ],
  closed: true,
};

/** A full turn in one arc, as some drawings have it. */
const FULL_TURN: Path = {
  start: { x: 20, y: 12 },
  segments: [
    { kind: "arc", to: { x: 20, y: 12 }, centre: { x: 15, y: 12 }, sweepRad: -2 * Math.PI },
  ],
  closed: true,
};

const SCORE: Path = polylinePath(
  [
    { x: 5, y: 5 },
    { x: 25, y: 5 },
    { x: 25, y: 8 },
  ],
  false,
);

const LETTER: readonly Path[] = [
  polylinePath(
    [
      { x: 30, y: 8 },
      { x: 44, y: 8 },
      { x: 44, y: 18 },
      { x: 30, y: 22 },
    ],
    true,
  ),
  polylinePath(
    [
      { x: 34, y: 11 },
      { x: 40, y: 11 },
      { x: 40, y: 15 },
    ],
    true,
  ),
];

export const NASTY_NAME = `heron "left" & <right> _x é`;

export const GEOMETRY: ReadonlyMap<string, PartGeometry> = new Map([
  [
    NASTY_NAME,
    part(NASTY_NAME, CURVED, { holes: [FULL_TURN], scores: [SCORE], engravings: LETTER }),
  ],
  [
    "7 plate",
    part("7 plate", ROUNDED, { holes: [reversePath(circlePath({ x: 10, y: 10 }, 2.5))] }),
  ],
]);

export const PLACEMENTS: readonly Placement[] = [
  { part: NASTY_NAME, copy: 1, turnDeg: 0, mirrored: false, xMm: 10, yMm: 10 },
  { part: NASTY_NAME, copy: 2, turnDeg: 90, mirrored: true, xMm: 185, yMm: 62 },
  { part: "7 plate", copy: 1, turnDeg: 33.3, mirrored: false, xMm: 40, yMm: 80 },
  { part: "7 plate", copy: 2, turnDeg: 270, mirrored: true, xMm: 85, yMm: 75 },
];

export const STOCK: NestedStock = {
  material: "acrylic cast",
  thicknessMm: 3,
  sheet: "small",
  used: [],
  sheets: [{ sheet: "small", widthMm: 200, heightMm: 150, placements: PLACEMENTS }],
  unplaced: [],
  sheetCost: "1",
  costBound: "1",
  utilisation: 0.5,
  bySize: [],
  mix: null,
  boughtMix: null,
  leftover: null,
  steps: 1,
};

/** The same with the upper right of its sheet left whole. */
export const LEFT: NestedStock = {
  ...STOCK,
  leftover: { onSheet: 0, xMm: 110, yMm: 80.5, widthMm: 85, heightMm: 60.2, share: 0.17 },
};

/** The same on an offcut from the shelf. */
export const OFFCUT: NestedStock = {
  ...STOCK,
  used: [
    {
      sheet: "small",
      form: "sheet",
      widthMm: 200,
      heightMm: 150,
      marginMm: 5,
      gapMm: 3,
      offcut: true,
      count: 1,
      panels: 1,
      bought: 1,
      lengthMm: null,
      cost: "0",
    },
  ],
};

function part(
  name: string,
  outline: Path,
  lines: Partial<Pick<PartGeometry, "holes" | "scores" | "engravings">>,
): PartGeometry {
  const { holes = [], scores = [], engravings = [] } = lines;
  const region = {
    outer: flattenPath(outline, 0.05),
    holes: holes.map((hole) => flattenPath(hole, 0.05)),
  };
  return {
    part: name,
    place: { file: "parts.csv", line: 2, column: null },
    outline,
    holes,
    scores,
    engravings,
    region,
    flatteningMm: 0.05,
    areaMm2: [outline, ...holes].reduce((sum, path) => sum + pathArea(path), 0),
    cutLengthMm: [outline, ...holes].reduce((sum, path) => sum + pathLength(path), 0),
    roundHoles: [],
    drawnTwice: [],
  };
}
