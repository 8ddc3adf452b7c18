import type { Bed, Way } from "./bed.ts";
import { TOUCH_MM, lowestFree } from "./column.ts";
import { emptyColumns, takeIn, takenAtOnce, type Columns, type Placed } from "./columns.ts";
import { stopBelow, type Axis, type NoFitCache } from "./no-fit.ts";
import type { Shape } from "./shapes.ts";
import type { SheetChoice } from "./types.ts";

/** What a place is judged by, among all that are free. */
export interface Preference {
  /** Along which axis pieces sink: down to the lower edge, or to the left one. */
  readonly axis: Axis;
  /** Which end of the piece shall come lowest: 0 the near one, 1 the far one, or between. */
  readonly end: number;
}

/** A sheet being filled. */
export interface OpenSheet {
  readonly choice: SheetChoice;
  /** First what stands there from the start, then the copies laid. */
  readonly placed: Placed[];
  /** How many stand there from the start. */
  readonly standing: number;
  freeMm2: number;
  /** Up to the far end of the highest piece. */
  usedMm: number;
  /** What is missing of the bed's height, at its far end: where a roll runs out. */
  shortMm: number;
  /** For the ways to lay the shape at hand. */
  columns: Map<Way, Columns>;
  /** Ways that found no room here, by list; they will not later either. */
  readonly fullFor: Set<readonly Way[]>;
}

export function openSheet(bed: Bed): OpenSheet {
  return {
    choice: bed.choice,
    placed: [...bed.standing],
    standing: bed.standing.length,
    freeMm2: bed.areaMm2,
    usedMm: 0,
    shortMm: 0,
    columns: new Map(),
    fullFor: new Set(),
  };
}

/** Another shape's turn. */
export function forgetShape(sheet: OpenSheet): void {
  sheet.columns = new Map();
}

/** Lays one copy, or a couple, where it is best to lie; tells how many, 0 when there is no room. */
export function layCopies(
  sheet: OpenSheet,
  shape: Shape,
  index: number,
  ways: readonly Way[],
  preference: Preference,
  cache: NoFitCache,
): number {
  const found = tooFull(sheet, shape) ? null : bestPlace(sheet, ways, preference, cache);
  if (found === null) return 0;
  const { way, x, y, at } = settle(sheet.placed, found, cache);
  for (const member of way.members) {
    sheet.placed.push({
      shape: index,
      variant: member.variant,
      x: x + member.x,
      y: y + member.y,
      at: at < 0 ? at : at + member.at,
    });
    sheet.freeMm2 -= shape.areaMm2;
    const top = y + member.y + member.variant.box.maxY + shape.piece.flatteningMm;
    sheet.usedMm = Math.max(sheet.usedMm, top);
  }
  return way.members.length;
}

/** Makes ready to lay a shape in one of its ways, unless that was done before or is in vain. */
export function* prepare(
  sheet: OpenSheet,
  shape: Shape,
  way: Way,
  cache: NoFitCache,
): Generator<void, void, void> {
  if (sheet.columns.has(way) || tooFull(sheet, shape)) return;
  const columns = emptyColumns(way);
  sheet.columns.set(way, columns);
  while (columns.taken < sheet.placed.length) {
    takeIn(columns, sheet.placed.slice(0, takenAtOnce(columns, sheet.placed)), cache);
    yield;
  }
}

function tooFull({ freeMm2 }: OpenSheet, { areaMm2 }: Shape): boolean {
  return freeMm2 < areaMm2 * (1 - ROUNDING);
}

/** Share of an area that counts as nothing. */
const ROUNDING = 1e-9;

interface Place {
  readonly way: Way;
  readonly x: number;
  readonly y: number;
  readonly at: number;
}

function bestPlace(
  sheet: OpenSheet,
  ways: readonly Way[],
  { axis, end }: Preference,
  cache: NoFitCache,
): Place | null {
  let best: Place | null = null;
  let [least, leastAcross] = [Infinity, Infinity];
  for (const way of ways) {
    const columns = columnsOf(sheet, way, cache);
    const { room, box } = way;
    const maxY = room.maxY - sheet.shortMm;
    cache.meter.spend(columns.lines.length * LINE);
    const endX = box.minX + end * (box.maxX - box.minX);
    const endY = box.minY + end * (box.maxY - box.minY);
    for (const line of columns.lines) {
      if (axis === "x" && line.x + endX > least + TOUCH_MM) break;
      const y = lowestFree(line, room.minY, maxY);
      if (Number.isNaN(y)) continue;
      const [depth, across] = axis === "y" ? [y + endY, line.x + endX] : [line.x + endX, y + endY];
      if (depth > least + TOUCH_MM || (depth > least - TOUCH_MM && across >= leastAcross)) continue;
      [least, leastAcross] = [depth, across];
      best = { way, x: line.x, y, at: line.at };
    }
  }
  return best;
}

/** Looking for room on a line takes so much of the time of making a polygon. */
const LINE = 0.03;

function columnsOf(sheet: OpenSheet, way: Way, cache: NoFitCache): Columns {
  const columns = sheet.columns.get(way) ?? emptyColumns(way);
  sheet.columns.set(way, columns);
  takeIn(columns, sheet.placed, cache);
  return columns;
}

/** Slides left and down in turn between the lines until it rests; an intricate piece rests on its line. */
function settle(placed: readonly Placed[], from: Place, cache: NoFitCache): Place {
  if (from.way.intricate) return from;
  let at = { ...from, at: -1 };
  for (let slide = 0; slide < MOST_SLIDES; slide++) {
    const x = slid(placed, at, "x", cache);
    const left = { ...at, x };
    const y = slid(placed, left, "y", cache);
    const moved = at.x - x + at.y - y;
    at = { ...left, y };
    if (moved <= LEAST_SLIDE_MM) break;
  }
  return at;
}

const MOST_SLIDES = 12;
/** Shorter slides are not worth going on for. */
const LEAST_SLIDE_MM = 1e-4;

/** Passing by a polygon takes so much of the time of making one. */
const PASSED = 0.01;

function slid(placed: readonly Placed[], place: Place, axis: Axis, cache: NoFitCache): number {
  const { way, x, y } = place;
  let stop = axis === "x" ? way.room.minX : way.room.minY;
  for (const piece of placed) {
    for (const member of way.members) {
      const noFit = cache.of(piece.variant, member.variant);
      cache.meter.spend(noFit.starts.length * PASSED);
      const [atX, atY] = [piece.x - member.x, piece.y - member.y];
      stop =
        axis === "x"
          ? atX + stopBelow(noFit, "x", y - atY, x - atX, stop - atX)
          : atY + stopBelow(noFit, "y", x - atX, y - atY, stop - atY);
    }
  }
  return Math.min(stop, axis === "x" ? x : y);
}
