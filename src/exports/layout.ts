import type { PartGeometry } from "../drawing/types.ts";
import type { NestedStock, TimedStock } from "../estimate-data.ts";
import { pathLength } from "../geometry/path.ts";
import { poseRegion } from "../geometry/pose.ts";
import { boundsOf } from "../geometry/ring.ts";
import type { Point, Region } from "../geometry/types.ts";
import type { OrderedPath, PlacedLines } from "../machine/types.ts";
import { placedLines } from "../machine/work.ts";
import type { NestedSheet } from "../nesting/types.ts";
import { printable } from "../problem.ts";
import { sizeText, stockName } from "../units.ts";

/** What a layout shows of one sheet, whatever the format: mm, y up, 0,0 the lower left corner. */
export interface Layout {
  readonly title: string;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Of an odd-shaped offcut, around it and what is gone out of it; null for a rectangle. */
  readonly outline: Region | null;
  /** In the order of work: what is inside comes before what is around it. */
  readonly paths: readonly OrderedPath[];
  readonly labels: readonly Label[];
  /** Says in its margin which offcut from the shelf the sheet is; null for a sheet that is bought. */
  readonly offcut: Caption | null;
  /** The largest rectangle that stays whole; null when it is on another sheet, or there is none. */
  readonly leftover: Rectangle | null;
}

/** A line of text about its middle. */
export interface Caption {
  readonly text: string;
  readonly centre: Point;
  readonly heightMm: number;
}

export interface Rectangle {
  readonly xMm: number;
  readonly yMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Says which copy this is; lies on the material of the copy, and is not for the machine. */
export interface Label extends Caption {
  readonly part: string;
  readonly copy: number;
}

/**
 * @param geometry by part name.
 * @throws RangeError when there is no such sheet, or a placed part has no geometry.
 */
export function layoutOf(
  stock: NestedStock | TimedStock,
  sheetIndex: number,
  geometry: ReadonlyMap<string, PartGeometry>,
): Layout {
  const sheet = stock.sheets[sheetIndex];
  if (sheet === undefined) throw new RangeError(`no sheet ${sheetIndex + 1} of ${stock.sheet}`);
  const lines = placedLines(sheet, geometry);
  const timed = "times" in stock ? stock.times[sheetIndex]?.order : undefined;
  return {
    title: `${stockName(stock)}, sheet ${sheetIndex + 1} of ${stock.sheets.length}, ${sheet.sheet}`,
    widthMm: sheet.widthMm,
    heightMm: sheet.heightMm,
    outline: sheet.outline ?? null,
    paths: (timed ?? copyByCopy(lines)).filter((each) => pathLength(each.path) > 0),
    labels: labelsOf(sheet, geometry),
    offcut: offcutCaption(stock, sheet),
    leftover: stock.leftover?.onSheet === sheetIndex ? stock.leftover : null,
  };
}

/** For sheets that were not timed: holes before the outline around them. */
function copyByCopy(lines: readonly PlacedLines[]): OrderedPath[] {
  return lines.flatMap(({ part, copy, outline, holes, scores, engravings }) => [
    ...engravings.map((path) => ({ operation: "engrave", part, copy, path }) as const),
    ...scores.map((path) => ({ operation: "score", part, copy, path }) as const),
    ...[...holes, outline].map((path) => ({ operation: "cut", part, copy, path }) as const),
  ]);
}

function labelsOf(sheet: NestedSheet, geometry: ReadonlyMap<string, PartGeometry>): Label[] {
  return sheet.placements.map((placement) => {
    const { part, copy } = placement;
    const drawn = geometry.get(part);
    if (drawn === undefined) throw new RangeError(`no geometry for part ${part}`);
    const text = printable(`${part} ${copy}`);
    const { centre, widthMm } = roomiest(poseRegion(placement, drawn.region));
    const heightMm = Math.min(LARGEST_LABEL_MM, fitting(text, widthMm));
    return { part, copy, text, centre, heightMm };
  });
}

/** What is written in the middle of what stays whole. */
export function leftoverCaption({ xMm, yMm, widthMm, heightMm }: Rectangle): Caption {
  const text = `left: ${sizeText(widthMm, heightMm)}`;
  const centre = { x: xMm + widthMm / 2, y: yMm + heightMm / 2 };
  return { text, centre, heightMm: Math.min(2 * LARGEST_LABEL_MM, fitting(text, widthMm)) };
}

/** In the lower margin, where no part lies; without a straight one the title alone says it. */
function offcutCaption({ used }: NestedStock, sheet: NestedSheet): Caption | null {
  const its = used.find(({ sheet: id }) => id === sheet.sheet);
  if (its?.offcut !== true || its.marginMm === 0) return null;
  const { widthMm, heightMm, outline } = sheet;
  if (outline !== undefined) return null;
  const text = printable(`offcut ${sheet.sheet}, ${sizeText(widthMm, heightMm)}`);
  const high = Math.min(LARGEST_LABEL_MM, its.marginMm * MARGIN_SHARE, fitting(text, widthMm));
  return { text, centre: { x: widthMm / 2, y: its.marginMm / 2 }, heightMm: high };
}

/** How high letters may be for a text to take up no more than a width, mm. */
function fitting(text: string, widthMm: number): number {
  return widthMm / (text.length * LETTER_WIDTH + 1);
}

/** Of a margin that letters take up. */
const MARGIN_SHARE = 0.7;

const LARGEST_LABEL_MM = 4;
/** Of a usual sans-serif letter, as a share of its height. */
const LETTER_WIDTH = 0.7;
/** Where across a part room for its label is looked for, as shares of its height. */
const HEIGHTS = [0.5, 0.35, 0.65, 0.2, 0.8];

/** The middle of the widest stretch of material on a few lines across the part. */
function roomiest({ outer, holes }: Region): { centre: Point; widthMm: number } {
  const { minX, minY, maxX, maxY } = boundsOf(outer);
  let best = { centre: { x: (minX + maxX) / 2, y: (minY + maxY) / 2 }, widthMm: 0 };
  for (const height of HEIGHTS) {
    const y = minY + height * (maxY - minY);
    const edges = [outer, ...holes].flatMap((ring) => crossings(ring, y)).sort((a, b) => a - b);
    for (let i = 0; i + 1 < edges.length; i += 2) {
      const [left, right] = [edges[i]!, edges[i + 1]!];
      if (right - left <= best.widthMm) continue;
      best = { centre: { x: (left + right) / 2, y }, widthMm: right - left };
    }
  }
  return best;
}

function crossings(ring: Region["outer"], y: number): number[] {
  return ring.flatMap((a, index) => {
    const b = ring[(index + 1) % ring.length]!;
    return a.y > y === b.y > y ? [] : [a.x + ((y - a.y) / (b.y - a.y)) * (b.x - a.x)];
  });
}
