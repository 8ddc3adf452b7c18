import type { Box, Point, Region } from "../geometry/types.ts";

/** Material on a sheet, as it lies there. */
export interface Obstacle {
  readonly region: Region;
  /** Stays free around it, mm, 0 or more. */
  readonly keepMm: number;
}

/** Free heights, from below: `low, high, low, high, ...`, apart from each other. */
export type Gaps = readonly number[];

/**
 * What of an upright strip is free over its whole width. Forbidden is each edge grown by what is to
 * be kept, which is convex, so that within a strip it takes up one span of heights; and what lies
 * inside of the material on the strip's left side. Nothing else can be: going left from a point of
 * the material one comes upon an edge of it or upon that side.
 */
export class FreeStrips {
  /** `x1,y1,x2,y2` of each edge, x1 <= x2, obstacle by obstacle. */
  readonly #edges: Float64Array;
  readonly #keep: Float64Array;
  readonly #owner: Int32Array;
  readonly #low: number;
  readonly #high: number;
  readonly #all: Int32Array;

  /** @param strips which way they run: level ones go by y, and their gaps lie along x. */
  constructor(obstacles: readonly Obstacle[], within: Box, strips: "upright" | "level") {
    const turned = strips === "level";
    const rings = obstacles.flatMap(({ region: { outer, holes }, keepMm }, owner) =>
      [outer, ...holes].map((ring) => ({ ring, keepMm, owner })),
    );
    const count = rings.reduce((sum, { ring }) => sum + ring.length, 0);
    this.#edges = new Float64Array(4 * count);
    this.#keep = new Float64Array(count);
    this.#owner = new Int32Array(count);
    this.#all = Int32Array.from({ length: count }, (_, edge) => edge);
    [this.#low, this.#high] = turned ? [within.minX, within.maxX] : [within.minY, within.maxY];
    let edge = 0;
    for (const { ring, keepMm, owner } of rings) {
      for (const [index, to] of ring.entries()) {
        this.#edges.set(sideOf(ring.at(index - 1)!, to, turned), 4 * edge);
        this.#keep[edge] = keepMm;
        this.#owner[edge++] = owner;
      }
    }
  }

  /** Edges that reach into the open strip, of those given. */
  edgesIn(left: number, right: number, among: Int32Array = this.#all): Int32Array {
    return among.filter(
      (edge) =>
        this.#edges[4 * edge]! - this.#keep[edge]! < right &&
        this.#edges[4 * edge + 2]! + this.#keep[edge]! > left,
    );
  }

  /**
   * Free heights over the whole open strip; of a line, where both are the same, just right of it.
   * @param among at least those that reach into it.
   */
  gaps(left: number, right: number, among: Int32Array): Gaps {
    const spans: Span[] = [];
    const inside = new Map<number, number[]>();
    for (const edge of among) {
      const keep = this.#keep[edge]!;
      const [x1, x2] = [this.#edges[4 * edge]!, this.#edges[4 * edge + 2]!];
      const [y1, y2] = [this.#edges[4 * edge + 1]!, this.#edges[4 * edge + 3]!];
      if (x1 - keep < right && x2 + keep > left) {
        const grown = { keep, left, right };
        spans.push([-highest([x1, -y1, x2, -y2], grown), highest([x1, y1, x2, y2], grown)]);
      }
      if (x1 > left || x2 <= left) continue;
      const owner = this.#owner[edge]!;
      const crossed = inside.get(owner);
      const y = y1 + ((left - x1) / (x2 - x1)) * (y2 - y1);
      if (crossed === undefined) inside.set(owner, [y]);
      else crossed.push(y);
    }
    // Even-odd rule.
    for (const crossed of inside.values()) {
      crossed.sort((a, b) => a - b);
      for (let i = 0; i + 1 < crossed.length; i += 2) spans.push([crossed[i]!, crossed[i + 1]!]);
    }
    return between(spans, this.#low, this.#high);
  }
}

type Span = readonly [low: number, high: number];
type Side = readonly [x1: number, y1: number, x2: number, y2: number];

function sideOf(a: Point, b: Point, turned: boolean): Side {
  const from: readonly [number, number] = turned ? [a.y, a.x] : [a.x, a.y];
  const to: readonly [number, number] = turned ? [b.y, b.x] : [b.x, b.y];
  return from[0] <= to[0] ? [...from, ...to] : [...to, ...from];
}

/** The highest point within a strip of an edge grown by `keep` on all sides. */
function highest(
  [x1, y1, x2, y2]: Side,
  { keep, left, right }: { readonly keep: number; readonly left: number; readonly right: number },
): number {
  const top = Math.max(y1, y2) + keep;
  // Its upper side rises up to over the higher end, and then falls.
  const x = Math.min(right, Math.max(left, y2 >= y1 ? x2 : x1));
  const round = (endX: number, endY: number): number =>
    endY + Math.sqrt(Math.max(0, keep * keep - (x - endX) * (x - endX)));
  if (x1 === x2) return round(x1, Math.max(y1, y2));
  const length = Math.hypot(x2 - x1, y2 - y1);
  const [asideX, asideY] = [(-(y2 - y1) / length) * keep, ((x2 - x1) / length) * keep];
  if (x < x1 + asideX) return round(x1, y1);
  if (x > x2 + asideX) return round(x2, y2);
  return Math.min(top, y1 + asideY + ((x - x1 - asideX) / (x2 - x1)) * (y2 - y1));
}

function between(spans: Span[], low: number, high: number): Gaps {
  const gaps: number[] = [];
  let from = low;
  for (const [start, end] of spans.sort((a, b) => a[0] - b[0])) {
    if (start >= high) break;
    if (start > from) gaps.push(from, start);
    from = Math.max(from, end);
  }
  if (from < high) gaps.push(from, high);
  return gaps;
}

/** What is free in both. */
export function common(a: Gaps, b: Gaps): Gaps {
  const gaps: number[] = [];
  for (let i = 0, k = 0; i < a.length && k < b.length;) {
    const low = Math.max(a[i]!, b[k]!);
    const high = Math.min(a[i + 1]!, b[k + 1]!);
    if (low < high) gaps.push(low, high);
    if (a[i + 1]! < b[k + 1]!) i += 2;
    else k += 2;
  }
  return gaps;
}
