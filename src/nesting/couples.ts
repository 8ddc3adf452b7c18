import type { Box } from "../geometry/types.ts";
import type { Variant } from "./bed.ts";
import { emptyColumn, forbidPolygon, type Column } from "./column.ts";
import type { NoFitCache } from "./no-fit.ts";

/** A second copy of a piece, laid to a first one at 0,0 so that their common box is small. */
export interface Couple {
  readonly first: Variant;
  readonly second: Variant;
  /** Of the second copy's 0,0. */
  readonly x: number;
  readonly y: number;
  readonly box: Box;
  /** What two single boxes take, over what the common one takes: above 1 when coupling pays. */
  readonly gain: number;
}

/**
 * Copies that fill their common box better head to tail, the best first. Two copies that are each
 * other's half turn form, side by side, the densest lattices of most outlines (for convex ones see
 * Kuperberg and Kuperberg 1990, from memory); so only those are looked into.
 */
export function* couplesOf(
  variants: readonly Variant[],
  gapMm: number,
  cache: NoFitCache,
): Generator<void, readonly Couple[], void> {
  const least = Math.min(...variants.map(({ box }) => boxArea(box, gapMm)));
  const couples: Couple[] = [];
  for (const first of variants) {
    const second = variants.find((other) => isHalfTurnOf(first, other));
    if (second === undefined) continue;
    couples.push(closest(first, second, gapMm, least, cache));
    yield;
  }
  return couples
    .filter(({ gain }) => gain >= LEAST_GAIN)
    .sort((a, b) => b.gain - a.gain || a.first.index - b.first.index)
    .slice(0, MOST_COUPLES);
}

/** Less is not worth a second kind of piece. */
const LEAST_GAIN = 1.1;
const MOST_COUPLES = 3;
/** Places looked at across the no-fit region. */
const PLACES = 240;
const HALF_TURN_DEG = 180;
const SAME_DEG = 1e-9;

function isHalfTurnOf(a: Variant, b: Variant): boolean {
  const turnDeg = b.turnDeg - a.turnDeg;
  return a.mirrored === b.mirrored && Math.abs(turnDeg - HALF_TURN_DEG) < SAME_DEG;
}

/** Looks at touching places only: the ends of what the no-fit region forbids. */
function closest(
  first: Variant,
  second: Variant,
  gapMm: number,
  single: number,
  cache: NoFitCache,
): Couple {
  let best: Couple = { first, second, x: 0, y: 0, box: first.box, gain: 0 };
  for (const { x, spans, count } of cutsOf(first, second, cache)) {
    for (const y of spans.subarray(0, 2 * count)) {
      const box = around(first.box, second.box, x, y);
      const gain = (2 * single) / boxArea(box, gapMm);
      if (gain > best.gain) best = { first, second, x, y, box, gain };
    }
  }
  return best;
}

/** Through the no-fit region; those of intricate pieces stand whole steps apart. */
function cutsOf(
  first: Variant,
  second: Variant,
  cache: NoFitCache,
): readonly Pick<Column, "x" | "spans" | "count">[] {
  if (first.intricate) {
    const slices = cache.slicesOf(first, second);
    return Array.from({ length: slices.starts.length - 1 }, (_, cut) => {
      const [from, to] = [slices.starts[cut]!, slices.starts[cut + 1]!];
      const x = second.room.minX - first.room.minX + (slices.first + cut) * first.stepMm;
      return { x, spans: slices.spans.subarray(2 * from, 2 * to), count: to - from };
    });
  }
  const noFit = cache.of(first, second);
  const apart = (noFit.maxX - noFit.minX) / PLACES;
  const corners = Array.from(noFit.xy.filter((_, index) => index % 2 === 0));
  const even = Array.from({ length: PLACES }, (_, place) => noFit.minX + place * apart);
  const lines = [...new Set([...even, ...corners])]
    .sort((a, b) => a - b)
    .map((x) => emptyColumn(x, -1));
  for (let polygon = 0; polygon < noFit.starts.length - 1; polygon++)
    forbidPolygon(lines, noFit, polygon, 0, 0);
  return lines;
}

function around(a: Box, b: Box, x: number, y: number): Box {
  return {
    minX: Math.min(a.minX, b.minX + x),
    minY: Math.min(a.minY, b.minY + y),
    maxX: Math.max(a.maxX, b.maxX + x),
    maxY: Math.max(a.maxY, b.maxY + y),
  };
}

function boxArea({ minX, minY, maxX, maxY }: Box, gapMm: number): number {
  return (maxX - minX + gapMm) * (maxY - minY + gapMm);
}
