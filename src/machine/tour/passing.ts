import type { DistanceTable } from "./distance-table.ts";
import { neighboursOf } from "./neighbours.ts";
import type { Ways } from "./ways.ts";

/**
 * A tour passes a stop by one of its ways, which the distances between stops do not say: a contour
 * seems to be entered at its left and left at its right for nothing. So half of each distance is
 * paid by either stop, and a stop pays what it costs to come from one of its neighbours and go on to
 * another by the best single way. How the two halves share a distance is open: shares move towards
 * where the tree has ways that the stops do not choose (Lagrangian decomposition, as M. Guignard,
 * S. Kim, Mathematical Programming 39, 1987).
 */
export class Passing {
  readonly #ways: Ways;
  readonly #table: DistanceTable;
  /** Of each stop those that may follow it, nearest first. */
  readonly #near: readonly Int32Array[];
  /** Place of one stop among the near of another, by pairs; -1 where it is none. */
  readonly #placeOf: Int8Array;
  /** Half the way in from and out to each near stop by each way, beyond the stop's own half, mm. */
  readonly #into: readonly Float64Array[];
  readonly #outOf: readonly Float64Array[];
  /** What a stop is ready to pay more for each of the near ones, mm. */
  readonly #more: readonly Float64Array[];
  /** Places of the two near stops that each stop chose; -1 for any that is far. */
  readonly #chosen: Int8Array;

  /** @param table becomes what both stops of a way pay for it together. */
  constructor(ways: Ways, table: DistanceTable) {
    const { count } = ways;
    this.#ways = ways;
    this.#table = table;
    this.#near = neighboursOf(ways, NEAR)
      .slice(0, count)
      .map((near, stop) =>
        near.filter((other) => other < count && table.between(stop, other) < Infinity),
      );
    this.#placeOf = new Int8Array(count ** 2).fill(-1);
    for (const [stop, near] of this.#near.entries())
      for (const [place, other] of near.entries()) this.#placeOf[stop * count + other] = place;
    const beyond = (half: (way: number, other: number) => number) =>
      this.#near.map((near, stop) => beyondOwn(ways, table, stop, near, half));
    this.#into = beyond((way, other) => ways.fromStop(other, way));
    this.#outOf = beyond((way, other) => ways.toStop(way, other));
    this.#more = this.#near.map(({ length }) => new Float64Array(length));
    this.#chosen = new Int8Array(2 * count);
  }

  /** What passing all stops costs beside, with the neighbours that suit them best; not above 0, mm. */
  cost(): number {
    let sum = 0;
    for (let stop = 0; stop < this.#ways.count; stop += 1) sum += this.#costOf(stop);
    return sum;
  }

  /** The square of how far the ways of a tree and those chosen differ. */
  difference(by: Int32Array): number {
    let sum = 0;
    this.#compare(by, (_stop, _place, gap) => {
      sum += gap * gap;
    });
    return sum;
  }

  /** Pays more for what the tree has and stops do not choose, and less the other way round. */
  adjust(by: Int32Array, stepMm: number): void {
    this.#compare(by, (stop, place, gap) => {
      this.#more[stop]![place]! += stepMm * gap;
      this.#table.lengthen(stop, this.#near[stop]![place]!, stepMm * gap);
    });
  }

  #costOf(stop: number): number {
    const [into, outOf, more] = [this.#into[stop]!, this.#outOf[stop]!, this.#more[stop]!];
    const near = more.length;
    let least = 0;
    let [from, to] = [-1, -1];
    for (let at = 0; at < into.length; at += near) {
      const coming = leastTwo(into, outOf, more, at);
      if (coming.mm >= least) continue;
      least = coming.mm;
      [from, to] = [coming.from, coming.to];
    }
    this.#chosen[2 * stop] = from;
    this.#chosen[2 * stop + 1] = to;
    return least;
  }

  #compare(by: Int32Array, tell: (stop: number, place: number, gap: number) => void): void {
    const { count } = this.#ways;
    const gaps = new Int8Array(count * NEAR);
    const inTree = (stop: number, other: number): void => {
      const place = this.#placeOf[stop * count + other]!;
      if (place >= 0) gaps[stop * NEAR + place]! += 1;
    };
    for (const [stop, other] of by.entries()) {
      if (other < 0) continue;
      inTree(stop, other);
      inTree(other, stop);
    }
    for (const [index, place] of this.#chosen.entries())
      if (place >= 0) gaps[(index >> 1) * NEAR + place]! -= 1;
    for (const [index, gap] of gaps.entries())
      if (gap !== 0) tell(Math.floor(index / NEAR), index % NEAR, gap);
  }
}

const NEAR = 16;

function beyondOwn(
  ways: Ways,
  table: DistanceTable,
  stop: number,
  near: Int32Array,
  mm: (way: number, other: number) => number,
): Float64Array {
  const [first, end] = [ways.first[stop]!, ways.first[stop + 1]!];
  const found = new Float64Array((end - first) * near.length);
  for (let way = first; way < end; way += 1)
    for (const [place, other] of near.entries())
      found[(way - first) * near.length + place] =
        (mm(way, other) - table.between(stop, other)) / 2;
  return found;
}

/** Coming from one stop and going on to another by the way whose row begins at `at`. */
function leastTwo(
  into: Float64Array,
  outOf: Float64Array,
  more: Float64Array,
  at: number,
): { readonly mm: number; readonly from: number; readonly to: number } {
  let [inMm, inNext, outMm, outNext] = [0, 0, 0, 0];
  let [from, fromNext, to, toNext] = [-1, -1, -1, -1];
  for (let place = 0; place < more.length; place += 1) {
    const coming = into[at + place]! - more[place]!;
    if (coming < inMm) [inNext, fromNext, inMm, from] = [inMm, from, coming, place];
    else if (coming < inNext) [inNext, fromNext] = [coming, place];
    const going = outOf[at + place]! - more[place]!;
    if (going < outMm) [outNext, toNext, outMm, to] = [outMm, to, going, place];
    else if (going < outNext) [outNext, toNext] = [going, place];
  }
  if (from !== to || from < 0) return { mm: inMm + outMm, from, to };
  return inMm + outNext < inNext + outMm
    ? { mm: inMm + outNext, from, to: toNext }
    : { mm: inNext + outMm, from: fromNext, to };
}
