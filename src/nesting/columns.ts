import { TOUCH_MM, type Variant } from "./bed.ts";
import { addSpan, emptyColumn, firstRightOf, forbidPolygon, type Column } from "./column.ts";
import type { NoFitCache } from "./no-fit.ts";

/** A piece on a sheet: the position of its 0,0. */
export interface Placed {
  readonly shape: number;
  readonly variant: Variant;
  readonly x: number;
  readonly y: number;
  /** Steps from the left end of the variant's room; -1 when it lies elsewhere. */
  readonly at: number;
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

/** Evenly standing lines for plain pieces, which find their place by touching; 5 mm on 1220 mm. */
const EVEN_LINES = 240;
/** No more lines than this, whatever touches there are. */
const MOST_LINES = 900;

export function emptyColumns(variant: Variant): Columns {
  const { minX, maxX } = variant.room;
  const width = maxX - minX;
  const lines = variant.intricate ? steppedLines(variant, width) : evenLines(minX, width);
  const last = lines.at(-1)!;
  if (maxX > last.x + TOUCH_MM && (variant.upright || !variant.intricate))
    lines.push(emptyColumn(maxX, -1));
  return { variant, lines, taken: 0 };
}

function evenLines(minX: number, width: number): Column[] {
  const step = width / EVEN_LINES;
  const count = step > TOUCH_MM ? EVEN_LINES : 1;
  return Array.from({ length: count }, (_, index) => emptyColumn(minX + index * step, -1));
}

function steppedLines({ room, stepMm }: Variant, width: number): Column[] {
  const each = Math.max(1, Math.ceil(width / (stepMm * MOST_LINES)));
  const count = Math.floor(width / (stepMm * each)) + 1;
  return Array.from({ length: count }, (_, index) =>
    emptyColumn(room.minX + index * each * stepMm, index * each),
  );
}

/** Takes in the pieces placed since the last time. */
export function takeIn(columns: Columns, placed: readonly Placed[], cache: NoFitCache): void {
  if (columns.taken === placed.length) return;
  const fresh = touchLines(columns, placed.slice(columns.taken), cache);
  for (const piece of placed.slice(0, columns.taken)) forbid(fresh, piece, columns.variant, cache);
  columns.lines.push(...fresh);
  if (fresh.length > 0) columns.lines.sort((a, b) => a.x - b.x);
  for (const piece of placed.slice(columns.taken))
    forbid(columns.lines, piece, columns.variant, cache);
  columns.taken = placed.length;
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
    if (room <= 0) break;
    const last = fresh.at(-1);
    if (last !== undefined && x - last.x <= TOUCH_MM) continue;
    const after = firstRightOf(lines, x - TOUCH_MM);
    if (after < lines.length && lines[after]!.x <= x + TOUCH_MM) continue;
    fresh.push(emptyColumn(x, -1));
    room--;
  }
  return fresh;
}

function forbid(
  lines: readonly Column[],
  piece: Placed,
  variant: Variant,
  cache: NoFitCache,
): void {
  if (lines.length === 0) return;
  const stepped = piece.at >= 0 && variant.intricate;
  const others = stepped ? lines.filter(({ at }) => at < 0) : lines;
  if (stepped) forbidSlices(lines, piece, variant, cache);
  if (others.length === 0) return;
  const noFit = cache.of(piece.variant, variant);
  for (let polygon = 0; polygon < noFit.starts.length - 1; polygon++)
    forbidPolygon(others, noFit, polygon, piece.x, piece.y);
}

/** For lines a whole number of steps from the piece, where the no-fit region has been cut before. */
function forbidSlices(
  lines: readonly Column[],
  piece: Placed,
  variant: Variant,
  cache: NoFitCache,
): void {
  const { first, starts, spans } = cache.slicesOf(piece.variant, variant);
  const most = first + starts.length - 1;
  const left = variant.room.minX + (piece.at + first - 1) * variant.stepMm;
  for (let line = firstRightOf(lines, left); line < lines.length; line++) {
    const column = lines[line]!;
    if (column.at < 0) continue;
    const slice = column.at - piece.at;
    if (slice < first) continue;
    if (slice >= most) return;
    const end = starts[slice - first + 1]!;
    for (let span = starts[slice - first]!; span < end; span++)
      addSpan(column, piece.y + spans[2 * span]!, piece.y + spans[2 * span + 1]!);
  }
}
