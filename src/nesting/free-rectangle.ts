import type { Box } from "../geometry/types.ts";
import { common, FreeStrips, type Gaps, type Obstacle } from "./free-strips.ts";

/**
 * The largest rectangle along the axes, by area, that lies within a box and keeps clear of material;
 * null where none has sides of `leastMm`, which is more than 0. Wherever it lies it is free; and
 * unless it took {@link MOST_STRIPS} no other is larger by more than {@link CLOSE}.
 *
 * The box is parted into upright strips. A stretch of height that is free in neighbouring strips is a
 * rectangle; the strips beside it, in which it would end if it were larger, say how large it can be at
 * most. Those in which a larger one could end are halved, until there are none.
 */
export function freeRectangle(
  obstacles: readonly Obstacle[],
  within: Box,
  leastMm: number,
): Box | null {
  const { minX, minY, maxX, maxY } = within;
  if (!(maxX - minX >= leastMm && maxY - minY >= leastMm)) return null;
  const upright = new FreeStrips(obstacles, within, "upright");
  const level = new FreeStrips(obstacles, within, "level");
  const search: Search = { height: maxY - minY, leastMm, best: null };
  const sides = Array.from({ length: FIRST_STRIPS + 1 }, (_, index) =>
    index === FIRST_STRIPS ? maxX : minX + ((maxX - minX) * index) / FIRST_STRIPS,
  );
  let strips: readonly Strip[] = sides
    .slice(1)
    .map((right, index) => stripOf(upright, sides[index]!, right));
  for (;;) {
    const before = search.best;
    const open = sweep(strips, search);
    if (search.best !== null && search.best !== before) search.best = drawnOut(level, search.best);
    if (open.size === 0 || strips.length + open.size > MOST_STRIPS) return search.best;
    strips = halved(upright, strips, open);
  }
}

const FIRST_STRIPS = 16;
/** They are looked at in pairs. */
export const MOST_STRIPS = 2048;
/** As a share of the area. */
export const CLOSE = 1e-3;

interface Strip {
  readonly left: number;
  readonly right: number;
  /** Those that reach into it. */
  readonly edges: Int32Array;
  /** Free over its whole width. */
  readonly gaps: Gaps;
  /** Free on its left side, for a rectangle that goes on to both sides of that. */
  readonly line: Gaps;
}

interface Search {
  /** Of the box. */
  readonly height: number;
  readonly leastMm: number;
  best: Box | null;
}

function stripOf(free: FreeStrips, left: number, right: number, among?: Int32Array): Strip {
  const edges = free.edgesIn(left, right, among);
  const line = free.gaps(left, left, edges);
  return { left, right, edges, gaps: free.gaps(left, right, edges), line };
}

function halved(
  free: FreeStrips,
  strips: readonly Strip[],
  open: ReadonlySet<number>,
): readonly Strip[] {
  return strips.flatMap((strip, index) => {
    const { left, right, edges } = strip;
    const middle = (left + right) / 2;
    if (!open.has(index)) return [strip];
    return [stripOf(free, left, middle, edges), stripOf(free, middle, right, edges)];
  });
}

/** Finds the best rectangle of whole strips. @returns the strips in which a larger one may end. */
function sweep(strips: readonly Strip[], search: Search): ReadonlySet<number> {
  const promising: { readonly ends: readonly number[]; readonly mostMm2: number }[] = [];
  const end = strips.length;
  const leftOf = (index: number): number => strips[Math.max(0, index)]!.left;
  const rightOf = (index: number): number => strips[Math.min(end - 1, index)]!.right;
  const promise = (from: number, to: number, heightMm: number): void => {
    const widthMm = rightOf(to) - leftOf(from);
    const mostMm2 = widthMm >= search.leastMm ? widthMm * heightMm : 0;
    if (isLarger(mostMm2, search)) promising.push({ ends: [from, to], mostMm2 });
  };
  // Ends are numbers of strips; -1 and `end` stand for the sides of the box.
  for (let from = -1; from < end; from++) {
    if (from >= 0) promise(from, from, search.height);
    let gaps = strips[from + 1]?.line ?? [];
    for (let to = from + 1; to <= end; to++) {
      if (to > from + 1) gaps = common(gaps, strips[to - 1]!.gaps);
      gaps = worthwhile(gaps, rightOf(end) - leftOf(from), search);
      if (gaps.length === 0) break;
      const left = from < 0 ? leftOf(0) : rightOf(from);
      const right = to < end ? leftOf(to) : rightOf(end);
      if (to > from + 1) keepBest(left, right, gaps, search);
      promise(from, to, tallest(gaps));
    }
  }
  const open = promising.filter(({ mostMm2 }) => isLarger(mostMm2, search));
  return new Set(open.flatMap(({ ends }) => ends).filter((index) => index >= 0 && index < end));
}

/** Those in which there may be a larger rectangle, as wide as there is room for. */
function worthwhile(gaps: Gaps, widthMm: number, search: Search): Gaps {
  const isOne = (heightMm: number): boolean =>
    heightMm >= search.leastMm && isLarger(widthMm * heightMm, search);
  return gaps.filter((_, at) => {
    const low = at - (at % 2);
    return isOne(gaps[low + 1]! - gaps[low]!);
  });
}

function tallest(gaps: Gaps): number {
  let most = 0;
  for (let i = 0; i < gaps.length; i += 2) most = Math.max(most, gaps[i + 1]! - gaps[i]!);
  return most;
}

function isLarger(areaMm2: number, { best }: Search): boolean {
  return areaMm2 > (best === null ? 0 : areaOf(best) * (1 + CLOSE));
}

function areaOf({ minX, minY, maxX, maxY }: Box): number {
  return (maxX - minX) * (maxY - minY);
}

function keepBest(minX: number, maxX: number, gaps: Gaps, search: Search): void {
  if (maxX - minX < search.leastMm) return;
  for (let i = 0; i < gaps.length; i += 2) {
    const box = { minX, minY: gaps[i]!, maxX, maxY: gaps[i + 1]! };
    if (search.best === null || areaOf(box) > areaOf(search.best)) search.best = box;
  }
}

/** To both sides as far as its height is free. */
function drawnOut(level: FreeStrips, box: Box): Box {
  const gaps = level.gaps(box.minY, box.maxY, level.edgesIn(box.minY, box.maxY));
  const middle = (box.minX + box.maxX) / 2;
  for (let i = 0; i < gaps.length; i += 2) {
    const [minX, maxX] = [Math.min(box.minX, gaps[i]!), Math.max(box.maxX, gaps[i + 1]!)];
    if (gaps[i]! < middle && gaps[i + 1]! > middle) return { ...box, minX, maxX };
  }
  return box;
}
