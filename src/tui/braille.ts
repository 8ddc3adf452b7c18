import type { PartGeometry } from "../drawing/types.ts";
import { flattenPath } from "../geometry/flatten.ts";
import { posePath, poseRegion } from "../geometry/pose.ts";
import type { Point, Ring } from "../geometry/types.ts";
import type { NestedSheet } from "../nesting/types.ts";

/**
 * A sheet as a picture of braille characters. Each has 2 x 4 dots and a terminal cell is about twice
 * as high as wide, so dots are square and the picture keeps the sheet's proportions. y points up.
 */

export interface SheetPicture {
  /** All equally long: as wide as the sheet needs, at most the columns given. */
  readonly lines: readonly string[];
  /** For each line the columns that show the selected part. */
  readonly selected: readonly ReadonlySet<number>[];
}

const DOTS_ACROSS = 2;
const DOTS_DOWN = 4;
const BLANK = 0x2800;

/** Bits of the dots by column and row inside a cell (Unicode, Braille Patterns). */
const BITS: readonly (readonly number[])[] = [
  [0x01, 0x02, 0x04, 0x40],
  [0x08, 0x10, 0x20, 0x80],
];

/** A dot grid over the sheet; row 0 is the top. */
interface Grid {
  readonly width: number;
  readonly height: number;
  readonly dots: Uint8Array;
  readonly mmPerDot: number;
}

/**
 * Draws the sheet's edge, outlines, holes, scores and engravings of what lies on it; copies of the
 * selected part are shaded. Parts without geometry are left out.
 */
export function drawSheet(
  sheet: NestedSheet,
  geometryByPart: ReadonlyMap<string, PartGeometry>,
  columns: number,
  rows: number,
  selectedPart: string | null = null,
): SheetPicture {
  const grid = gridFor(sheet, columns, rows);
  const chosen = { ...grid, dots: new Uint8Array(grid.dots.length) };
  drawEdge(grid, sheet);
  for (const placement of sheet.placements) {
    const geometry = geometryByPart.get(placement.part);
    if (!geometry) continue;
    const { outer, holes } = poseRegion(placement, geometry.region);
    const isChosen = placement.part === selectedPart;
    const target = isChosen ? chosen : grid;
    for (const ring of [outer, ...holes]) drawLine(target, [...ring, ...ring.slice(0, 1)]);
    if (isChosen) fill(target, [outer, ...holes]);
    else
      for (const path of [...geometry.scores, ...geometry.engravings])
        drawLine(target, flattenPath(posePath(placement, path), grid.mmPerDot));
  }
  return pictureOf(grid, chosen);
}

/** The largest grid of square dots that has the sheet's proportions and fits. */
function gridFor(sheet: NestedSheet, columns: number, rows: number): Grid {
  const across = Math.max(1, columns) * DOTS_ACROSS;
  const down = Math.max(1, rows) * DOTS_DOWN;
  const mmPerDot = Math.max(
    sheet.widthMm / Math.max(1, across - 1),
    sheet.heightMm / Math.max(1, down - 1),
  );
  const width = Math.min(across, Math.round(sheet.widthMm / mmPerDot) + 1);
  const height = Math.min(down, Math.round(sheet.heightMm / mmPerDot) + 1);
  return { width, height, dots: new Uint8Array(width * height), mmPerDot };
}

function drawEdge(grid: Grid, { outline }: NestedSheet): void {
  if (outline !== undefined) {
    for (const ring of [outline.outer, ...outline.holes])
      drawLine(grid, [...ring, ...ring.slice(0, 1)]);
    return;
  }
  const right = (grid.width - 1) * grid.mmPerDot;
  const top = (grid.height - 1) * grid.mmPerDot;
  const corners = [
    { x: 0, y: 0 },
    { x: right, y: 0 },
    { x: right, y: top },
    { x: 0, y: top },
  ];
  drawLine(grid, [...corners, { x: 0, y: 0 }]);
}

/** Sets a dot at least every half dot along the line. */
function drawLine(grid: Grid, points: readonly Point[]): void {
  points.forEach((to, index) => {
    const from = points[index - 1] ?? to;
    const steps = Math.ceil((2 * Math.hypot(to.x - from.x, to.y - from.y)) / grid.mmPerDot);
    for (let step = 0; step <= steps; step++) {
      const share = steps === 0 ? 0 : step / steps;
      setDot(grid, from.x + (to.x - from.x) * share, from.y + (to.y - from.y) * share);
    }
  });
}

function setDot({ width, height, dots, mmPerDot }: Grid, x: number, y: number): void {
  const column = Math.round(x / mmPerDot);
  const row = height - 1 - Math.round(y / mmPerDot);
  if (column >= 0 && column < width && row >= 0 && row < height) dots[row * width + column] = 1;
}

/**
 * Every second dot, chequered, whose centre lies inside an odd number of rings: holes stay open, and
 * copies that touch at this scale still show their outlines.
 */
function fill(grid: Grid, rings: readonly Ring[]): void {
  for (let row = 0; row < grid.height; row++) {
    const y = (grid.height - 1 - row) * grid.mmPerDot;
    const crossings = rings.flatMap((ring) => crossingsAt(ring, y)).sort((a, b) => a - b);
    for (let index = 0; index + 1 < crossings.length; index += 2) {
      const [from, to] = [crossings[index] ?? 0, crossings[index + 1] ?? 0];
      for (let x = Math.ceil(from / grid.mmPerDot); x * grid.mmPerDot <= to; x++)
        if ((x + row) % 2 === 0) setDot(grid, x * grid.mmPerDot, y);
    }
  }
}

/** x where the ring's edges cross a height; an edge holds its lower end and not its upper one. */
function crossingsAt(ring: Ring, y: number): readonly number[] {
  return ring.flatMap((from, index) => {
    const to = ring[(index + 1) % ring.length] ?? from;
    if (from.y <= y === to.y <= y) return [];
    return [from.x + ((y - from.y) / (to.y - from.y)) * (to.x - from.x)];
  });
}

function pictureOf(grid: Grid, chosen: Grid): SheetPicture {
  const rows = Math.ceil(grid.height / DOTS_DOWN);
  const columns = Math.ceil(grid.width / DOTS_ACROSS);
  const indices = Array.from({ length: columns }, (_, column) => column);
  const perRow = Array.from({ length: rows }, (_, row) => ({
    line: indices.map((column) => cellOf(grid, column, row) | cellOf(chosen, column, row)),
    selected: new Set(indices.filter((column) => cellOf(chosen, column, row) !== 0)),
  }));
  return {
    lines: perRow.map(({ line }) => String.fromCodePoint(...line.map((bits) => BLANK + bits))),
    selected: perRow.map(({ selected }) => selected),
  };
}

function cellOf({ width, height, dots }: Grid, column: number, row: number): number {
  let bits = 0;
  BITS.forEach((ofColumn, dx) => {
    ofColumn.forEach((bit, dy) => {
      const [x, y] = [column * DOTS_ACROSS + dx, row * DOTS_DOWN + dy];
      if (x < width && y < height && dots[y * width + x] === 1) bits |= bit;
    });
  });
  return bits;
}
