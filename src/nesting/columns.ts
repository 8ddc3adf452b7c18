import { TOUCH_MM, type Variant } from "./bed.ts";
import type { NoFit, NoFitCache } from "./no-fit.ts";

/** A piece on a sheet: the position of its 0,0. */
export interface Placed {
  readonly shape: number;
  readonly variant: Variant;
  readonly x: number;
  readonly y: number;
}

/**
 * For one way to lay a piece, some upright lines across the room of its position, and on each the
 * heights that are forbidden by what lies on the sheet. The lines stand evenly, at the ends of the
 * room, and where the piece would touch another's side, so that exact fits are found.
 */
export interface Columns {
  readonly variant: Variant;
  /** From left to right, further apart than TOUCH_MM. */
  readonly lines: Column[];
  /** How many of the sheet's pieces are taken in. */
  taken: number;
}

interface Column {
  readonly x: number;
  /** Forbidden stretches from bottom to top, `from, to` each; they overlap by rounding at most. */
  spans: Float64Array;
  count: number;
}

/** Evenly standing lines; about 5 mm on a sheet of 1220 mm. */
const EVEN_LINES = 240;
/** No more lines than this, whatever touches there are. */
const MOST_LINES = 900;

export function emptyColumns(variant: Variant): Columns {
  const { minX, maxX } = variant.room;
  const step = (maxX - minX) / EVEN_LINES;
  const count = step > TOUCH_MM ? EVEN_LINES : 0;
  const lines = Array.from({ length: count + 1 }, (_, index) =>
    emptyColumn(index === count && count > 0 ? maxX : minX + index * step),
  );
  return { variant, lines, taken: 0 };
}

function emptyColumn(x: number): Column {
  return { x, spans: new Float64Array(8), count: 0 };
}

/** Takes in the pieces placed since the last time. */
export function takeIn(columns: Columns, placed: readonly Placed[], cache: NoFitCache): void {
  const fresh = touchLines(columns, placed.slice(columns.taken), cache);
  for (const piece of placed.slice(0, columns.taken)) forbid(fresh, piece, columns.variant, cache);
  columns.lines.push(...fresh);
  if (fresh.length > 0) columns.lines.sort((a, b) => a.x - b.x);
  for (const piece of placed.slice(columns.taken))
    forbid(columns.lines, piece, columns.variant, cache);
  columns.taken = placed.length;
}

/** Lowest allowed height on a line, from `least` to `most`; NaN when there is none. */
export function lowestFree({ spans, count }: Column, least: number, most: number): number {
  let y = least;
  for (let span = 0; span < count; span++) {
    if (spans[2 * span + 1]! <= y + TOUCH_MM) continue;
    if (spans[2 * span]! >= y - TOUCH_MM) break;
    y = spans[2 * span + 1]!;
  }
  return y <= most + TOUCH_MM ? Math.min(y, most) : NaN;
}

/**
 * New empty lines, from left to right, where the moving piece touches a placed one on either side.
 * Only straight sides can fit exactly; the others find their place by sliding.
 */
function touchLines(
  { variant, lines }: Columns,
  placed: readonly Placed[],
  cache: NoFitCache,
): Column[] {
  const { minX, maxX } = variant.room;
  if (!variant.upright) return [];
  const wanted = placed
    .filter((piece) => piece.variant.upright)
    .flatMap((piece) => {
      const noFit = cache.of(piece.variant, variant);
      return [piece.x + noFit.minX, piece.x + noFit.maxX];
    })
    .filter((x) => x > minX + TOUCH_MM && x < maxX - TOUCH_MM)
    .sort((a, b) => a - b);
  const fresh: Column[] = [];
  let room = MOST_LINES - lines.length;
  for (const x of wanted) {
    if (room === 0) break;
    const last = fresh.at(-1);
    if (last !== undefined && x - last.x <= TOUCH_MM) continue;
    const after = firstRightOf(lines, x - TOUCH_MM);
    if (after < lines.length && lines[after]!.x <= x + TOUCH_MM) continue;
    fresh.push(emptyColumn(x));
    room--;
  }
  return fresh;
}

function firstRightOf(lines: readonly Column[], x: number): number {
  let low = 0;
  let high = lines.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (lines[middle]!.x > x) high = middle;
    else low = middle + 1;
  }
  return low;
}

function forbid(
  lines: readonly Column[],
  piece: Placed,
  variant: Variant,
  cache: NoFitCache,
): void {
  if (lines.length === 0) return;
  const noFit = cache.of(piece.variant, variant);
  for (let polygon = 0; polygon < noFit.starts.length - 1; polygon++)
    forbidPolygon(lines, noFit, polygon, piece.x, piece.y);
}

/**
 * Walks along the lower and the upper rim of a convex polygon from line to line. The innermost loop
 * of the search: plain variables, no arrays made.
 */
function forbidPolygon(
  lines: readonly Column[],
  { xy, starts, boxes }: NoFit,
  polygon: number,
  atX: number,
  atY: number,
): void {
  const start = 2 * starts[polygon]!;
  const right = atX + boxes[4 * polygon + 2]! - TOUCH_MM;
  let line = firstRightOf(lines, atX + xy[start]! + TOUCH_MM);
  let below = start;
  let beyond = 2 * starts[polygon + 1]! - 2;
  let lowX = 0;
  let lowY = 0;
  let lowSlope = 0;
  let lowEnd = -Infinity;
  let topX = xy[start]!;
  let topY = xy[start + 1]!;
  let topSlope = 0;
  let topEnd = -Infinity;
  for (; line < lines.length; line++) {
    const column = lines[line]!;
    if (column.x >= right) return;
    const x = column.x - atX;
    if (lowEnd < x) {
      while (xy[below + 2]! < x) below += 2;
      lowX = xy[below]!;
      lowY = xy[below + 1]!;
      lowEnd = xy[below + 2]!;
      lowSlope = (xy[below + 3]! - lowY) / (lowEnd - lowX);
    }
    if (topEnd < x) {
      while (xy[beyond]! < x) {
        topX = xy[beyond]!;
        topY = xy[beyond + 1]!;
        beyond -= 2;
      }
      topEnd = xy[beyond]!;
      topSlope = (xy[beyond + 1]! - topY) / (topEnd - topX);
    }
    const from = lowY + (x - lowX) * lowSlope;
    const to = topY + (x - topX) * topSlope;
    if (to - from > TOUCH_MM) addSpan(column, atY + from, atY + to);
  }
}

/** Joins a stretch with those that it overlaps; those that it touches stay apart. */
function addSpan(column: Column, from: number, to: number): void {
  const { spans, count } = column;
  let first = 0;
  while (first < count && spans[2 * first + 1]! <= from + TOUCH_MM) first++;
  let after = first;
  let low = from;
  let high = to;
  while (after < count && spans[2 * after]! < to - TOUCH_MM) {
    low = Math.min(low, spans[2 * after]!);
    high = Math.max(high, spans[2 * after + 1]!);
    after++;
  }
  if (after === first) openSpan(column, first);
  else if (after > first + 1) {
    spans.copyWithin(2 * first + 2, 2 * after, 2 * count);
    column.count -= after - first - 1;
  }
  column.spans[2 * first] = low;
  column.spans[2 * first + 1] = high;
}

function openSpan(column: Column, at: number): void {
  if (2 * column.count === column.spans.length) {
    const larger = new Float64Array(2 * column.spans.length);
    larger.set(column.spans);
    column.spans = larger;
  }
  column.spans.copyWithin(2 * at + 2, 2 * at, 2 * column.count);
  column.count++;
}
