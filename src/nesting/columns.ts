import type { Member, Variant, Way } from "./bed.ts";
import {
  TOUCH_MM,
  addSpan,
  emptyColumn,
  firstRightOf,
  forbidPolygon,
  type Column,
} from "./column.ts";
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
 * For one way to lay a piece or a couple, some upright lines across the room of its position, and on each the
 * heights that are forbidden by what lies on the sheet. The lines stand evenly, at the ends of the
 * room, and where the piece would touch another's side, so that exact fits are found.
 */
export interface Columns {
  readonly way: Way;
  /** From left to right, further apart than TOUCH_MM. */
  readonly lines: Column[];
  /** How many of the sheet's pieces are taken in. */
  taken: number;
}

/** Evenly standing lines for plain pieces, which find their place by touching; 5 mm on 1220 mm. */
const EVEN_LINES = 240;
/** No more lines than this, whatever touches there are. */
const MOST_LINES = 900;

export function emptyColumns(way: Way): Columns {
  const { minX, maxX } = way.room;
  const width = maxX - minX;
  const lines = way.intricate ? steppedLines(way, width) : evenLines(minX, width);
  const last = lines.at(-1)!;
  if (maxX > last.x + TOUCH_MM && (way.upright || !way.intricate))
    lines.push(emptyColumn(maxX, -1));
  return { way, lines, taken: 0 };
}

function evenLines(minX: number, width: number): Column[] {
  const step = width / EVEN_LINES;
  const count = step > TOUCH_MM ? EVEN_LINES : 1;
  return Array.from({ length: count }, (_, index) => emptyColumn(minX + index * step, -1));
}

function steppedLines({ room, stepMm }: Way, width: number): Column[] {
  const each = Math.max(1, Math.ceil(width / (stepMm * MOST_LINES)));
  const count = Math.floor(width / (stepMm * each)) + 1;
  return Array.from({ length: count }, (_, index) =>
    emptyColumn(room.minX + index * each * stepMm, index * each),
  );
}

/**
 * How many of the pieces on a sheet can be taken in at a time without taking long: all of them unless
 * they are many, or intricate.
 */
export function takenAtOnce({ way, taken }: Columns, placed: readonly Placed[]): number {
  let polygons = 0;
  let count = taken;
  for (; count < placed.length && polygons < MOST_AT_ONCE; count++)
    for (const { variant } of way.members)
      polygons += placed[count]!.variant.grown.count * variant.grown.count;
  return count;
}

/** Polygons of no-fit regions: about a hundredth of a second. */
const MOST_AT_ONCE = 8192;

/** Takes in the pieces placed since the last time. */
export function takeIn(columns: Columns, placed: readonly Placed[], cache: NoFitCache): void {
  if (columns.taken === placed.length) return;
  const { way, lines } = columns;
  const fresh = touchLines(columns, placed.slice(columns.taken), cache);
  for (const piece of placed.slice(0, columns.taken)) forbid(fresh, piece, way, cache);
  lines.push(...fresh);
  if (fresh.length > 0) lines.sort((a, b) => a.x - b.x);
  for (const piece of placed.slice(columns.taken)) forbid(lines, piece, way, cache);
  columns.taken = placed.length;
}

/**
 * New empty lines, from left to right, where the moving piece touches a placed one on either side.
 * Only straight sides can fit exactly; the others find their place by sliding.
 */
function touchLines(
  { way, lines }: Columns,
  placed: readonly Placed[],
  cache: NoFitCache,
): Column[] {
  const { minX, maxX } = way.room;
  if (!way.upright) return [];
  const wanted = placed
    .filter((piece) => piece.variant.upright)
    .flatMap((piece) =>
      way.members.flatMap(({ variant, x }) => {
        const noFit = cache.of(piece.variant, variant);
        return [piece.x + noFit.minX - x, piece.x + noFit.maxX - x];
      }),
    )
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

function forbid(lines: readonly Column[], piece: Placed, way: Way, cache: NoFitCache): void {
  if (lines.length === 0) return;
  const stepped = piece.at >= 0 && way.intricate;
  const others = stepped ? lines.filter(({ at }) => at < 0) : lines;
  for (const member of way.members) {
    if (stepped) forbidSlices(lines, piece, member, way, cache);
    if (others.length === 0) continue;
    const noFit = cache.of(piece.variant, member.variant);
    cache.meter.spend(noFit.starts.length * POLYGON);
    for (let polygon = 0; polygon < noFit.starts.length - 1; polygon++)
      forbidPolygon(others, noFit, polygon, piece.x - member.x, piece.y - member.y);
  }
}

/** Drawing a polygon on the lines takes so much of the time of making it. */
const POLYGON = 0.1;

/** For lines a whole number of steps from the piece, where the no-fit region has been cut before. */
function forbidSlices(
  lines: readonly Column[],
  piece: Placed,
  member: Member,
  { room, stepMm }: Way,
  cache: NoFitCache,
): void {
  const { first, starts, spans } = cache.slicesOf(piece.variant, member.variant);
  const most = first + starts.length - 1;
  const between = member.at - piece.at;
  const y = piece.y - member.y;
  const left = room.minX + (first - between - 1) * stepMm;
  for (let line = firstRightOf(lines, left); line < lines.length; line++) {
    const column = lines[line]!;
    if (column.at < 0) continue;
    const slice = column.at + between;
    if (slice < first) continue;
    if (slice >= most) return;
    const end = starts[slice - first + 1]!;
    for (let span = starts[slice - first]!; span < end; span++)
      addSpan(column, y + spans[2 * span]!, y + spans[2 * span + 1]!);
  }
}
