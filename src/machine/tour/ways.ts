import { boundsOf } from "../../geometry/ring.ts";
import type { Point } from "../../geometry/types.ts";
import type { Entrance, TourStop } from "./types.ts";

/**
 * The ways to do each stop, in flat arrays: a search reads them millions of times. Home, where the
 * tour begins, and its end are stops of one way each, behind those given.
 */
export class Ways {
  /** Stops given; the numbers of home and end follow. */
  readonly count: number;
  readonly home: number;
  readonly end: number;
  /** The ways of stop s are `first[s]` up to, but not including, `first[s + 1]`. */
  readonly first: Int32Array;
  readonly stopOf: Int32Array;
  readonly #enterX: Float64Array;
  readonly #enterY: Float64Array;
  readonly #leaveX: Float64Array;
  readonly #leaveY: Float64Array;
  /** Around all points of a stop: left, bottom, right, top. */
  readonly #boxes: Float64Array;
  /** The way to the end costs nothing. */
  readonly #freeEnd: boolean;

  /** @param to where the tour leads, or null when that does not matter. */
  constructor(stops: readonly TourStop[], from: Point, to: Point | null) {
    this.count = stops.length;
    this.home = stops.length;
    this.end = stops.length + 1;
    this.#freeEnd = to === null;
    const ways = [...stops.map(({ entrances }) => entrances), stay(from), stay(to ?? from)];
    const all = ways.flat();
    this.first = new Int32Array(ways.length + 1);
    for (const [stop, { length }] of ways.entries())
      this.first[stop + 1] = this.first[stop]! + length;
    this.stopOf = Int32Array.from(ways.flatMap((own, stop) => own.map(() => stop)));
    this.#enterX = Float64Array.from(all, ({ enter }) => enter.x);
    this.#enterY = Float64Array.from(all, ({ enter }) => enter.y);
    this.#leaveX = Float64Array.from(all, ({ leave }) => leave.x);
    this.#leaveY = Float64Array.from(all, ({ leave }) => leave.y);
    this.#boxes = Float64Array.from(
      ways.flatMap((own) => {
        const { minX, minY, maxX, maxY } = boundsOf(
          own.flatMap(({ enter, leave }) => [enter, leave]),
        );
        return [minX, minY, maxX, maxY];
      }),
    );
  }

  /** From the end of one way to the beginning of another, mm. Math.hypot would take ten times as long. */
  between(way: number, next: number): number {
    if (this.#freeEnd && this.stopOf[next] === this.end) return 0;
    const dx = this.#enterX[next]! - this.#leaveX[way]!;
    const dy = this.#enterY[next]! - this.#leaveY[way]!;
    return Math.sqrt(dx * dx + dy * dy);
  }

  /** Of a tour by a way for each stop, mm. */
  lengthOf(order: readonly number[]): number {
    let at = this.first[this.home]!;
    let sum = 0;
    for (const way of [...order, this.first[this.end]!]) {
      sum += this.between(at, way);
      at = way;
    }
    return sum;
  }

  /** No way between a stop and the end of a way is shorter, mm. */
  fromWay(way: number, stop: number): number {
    return this.#toBox(this.#leaveX[way]!, this.#leaveY[way]!, stop);
  }

  /** No way between a stop and the beginning of a way is shorter, mm. */
  toWay(stop: number, way: number): number {
    if (this.#freeEnd && this.stopOf[way] === this.end) return 0;
    return this.#toBox(this.#enterX[way]!, this.#enterY[way]!, stop);
  }

  /** No way between two stops is shorter, mm. */
  boxesApart(stop: number, other: number): number {
    if (this.#freeEnd && (stop === this.end || other === this.end)) return 0;
    const boxes = this.#boxes;
    const a = 4 * stop;
    const b = 4 * other;
    const dx = Math.max(boxes[a]! - boxes[b + 2]!, 0, boxes[b]! - boxes[a + 2]!);
    const dy = Math.max(boxes[a + 1]! - boxes[b + 3]!, 0, boxes[b + 1]! - boxes[a + 3]!);
    return Math.sqrt(dx * dx + dy * dy);
  }

  /** The shortest way from any end of one stop to any beginning of another, mm; or `below`. */
  apart(stop: number, other: number, below = Infinity): number {
    let least = below;
    for (let way = this.first[stop]!; way < this.first[stop + 1]!; way += 1) {
      if (this.fromWay(way, other) >= least) continue;
      for (let next = this.first[other]!; next < this.first[other + 1]!; next += 1)
        least = Math.min(least, this.between(way, next));
    }
    return least;
  }

  /** The shortest way from any end of a stop to the beginning of a way, mm. */
  fromStop(stop: number, way: number): number {
    let least = Infinity;
    for (let from = this.first[stop]!; from < this.first[stop + 1]!; from += 1)
      least = Math.min(least, this.between(from, way));
    return least;
  }

  /** The shortest way from the end of a way to any beginning of a stop, mm. */
  toStop(way: number, stop: number): number {
    let least = Infinity;
    for (let to = this.first[stop]!; to < this.first[stop + 1]!; to += 1)
      least = Math.min(least, this.between(way, to));
    return least;
  }

  #toBox(x: number, y: number, stop: number): number {
    const at = 4 * stop;
    const dx = Math.max(this.#boxes[at]! - x, 0, x - this.#boxes[at + 2]!);
    const dy = Math.max(this.#boxes[at + 1]! - y, 0, y - this.#boxes[at + 3]!);
    return Math.sqrt(dx * dx + dy * dy);
  }
}

/** Neither home nor the end is left elsewhere than it is entered. */
function stay(point: Point): readonly Entrance[] {
  return [{ enter: point, leave: point }];
}
