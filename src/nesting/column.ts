import type { NoFit } from "./no-fit.ts";

/** Lengths that differ by less are the same to the search: rounding, and far below what the judge sees. */
export const TOUCH_MM = 1e-9;

/** An upright line for the position of a moving piece, with the heights that it may not take there. */
export interface Column {
  readonly x: number;
  /** Steps from the left end of the piece's room; -1 for a line that stands elsewhere. */
  readonly at: number;
  /** Forbidden stretches from bottom to top, `from, to` each; they overlap by rounding at most. */
  spans: Float64Array;
  count: number;
}

export function emptyColumn(
  x: number,
  at: number,
  spans: Float64Array = new Float64Array(8),
): Column {
  return { x, at, spans, count: 0 };
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

/** Index of the first line right of `x`; as many as there are when there is none. */
export function firstRightOf(lines: readonly Column[], x: number): number {
  let low = 0;
  let high = lines.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (lines[middle]!.x > x) high = middle;
    else low = middle + 1;
  }
  return low;
}

/**
 * Walks along the lower and the upper rim of a convex polygon from line to line. The innermost loop
 * of the search: plain variables, no arrays made.
 */
export function forbidPolygon(
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
export function addSpan(column: Column, from: number, to: number): void {
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
