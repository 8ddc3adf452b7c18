import type { Variant } from "./bed.ts";
import { emptyColumn, forbidPolygon } from "./column.ts";
import type { NoFit } from "./no-fit.ts";

/**
 * A no-fit region cut along upright lines that stand a step apart. Intricate pieces lie whole steps
 * from the left ends of their rooms, so that these few cuts serve for every copy, on every size of
 * sheet: the region's many polygons need not be gone through again.
 */
export interface Slices {
  /** How many steps the moving piece is further right at the first cut; may be negative. */
  readonly first: number;
  /** For each cut its first stretch, then the count of all stretches. */
  readonly starts: Int32Array;
  /** Forbidden differences of height, `from, to` each, from bottom to top within a cut. */
  readonly spans: Float64Array;
}

/** @param room arrays to work in, kept for the next time: making them anew would take longer. */
export function slicesOf(
  noFit: NoFit,
  placed: Variant,
  moving: Variant,
  room: Float64Array[],
): Slices {
  const { stepMm } = moving;
  // The same on every sheet: the margin is in both.
  const offset = moving.room.minX - placed.room.minX;
  const first = Math.ceil((noFit.minX - offset) / stepMm);
  const last = Math.floor((noFit.maxX - offset) / stepMm);
  const lines = Array.from({ length: Math.max(0, last - first + 1) }, (_, index) =>
    emptyColumn(offset + (first + index) * stepMm, first + index, room[index]),
  );
  for (let polygon = 0; polygon < noFit.starts.length - 1; polygon++)
    forbidPolygon(lines, noFit, polygon, 0, 0);
  const starts = new Int32Array(lines.length + 1);
  for (const [index, { count, spans }] of lines.entries()) {
    starts[index + 1] = starts[index]! + count;
    room[index] = spans;
  }
  const spans = new Float64Array(2 * starts.at(-1)!);
  for (const [index, { spans: of, count }] of lines.entries())
    for (let at = 0; at < 2 * count; at++) spans[2 * starts[index]! + at] = of[at]!;
  return { first, starts, spans };
}

/** With the roles of the two pieces exchanged: the same turned through the origin. */
export function exchanged({ first, starts, spans }: Slices): Slices {
  const count = starts.length - 1;
  const total = starts.at(-1)!;
  return {
    first: -(first + count - 1),
    starts: Int32Array.from(starts, (_, index) => total - starts[count - index]!),
    spans: Float64Array.from(spans, (_, index) => -spans[spans.length - 1 - index]!),
  };
}
