import type { Waiting } from "./waiting.ts";
import type { Ways } from "./ways.ts";

/**
 * A tour as a chain from home to the end, from which stops are taken and into which they are put.
 * Every link carries a mark that rises along the chain, so that it is known at once which of two
 * stops comes first.
 */
export class Chain {
  readonly #ways: Ways;
  readonly #waiting: Waiting;
  readonly #next: Int32Array;
  readonly #last: Int32Array;
  readonly #way: Int32Array;
  readonly #mark: Float64Array;
  readonly #isIn: Uint8Array;
  readonly #kept: readonly (readonly [
    Float64Array | Int32Array | Uint8Array,
    Float64Array | Int32Array | Uint8Array,
  ])[];
  #lengthMm = 0;
  #keptMm = 0;

  /** @param order a way for each stop, so that none comes before those it waits for. */
  constructor(ways: Ways, waiting: Waiting, order: readonly number[]) {
    const links = ways.count + 2;
    this.#ways = ways;
    this.#waiting = waiting;
    this.#next = new Int32Array(links);
    this.#last = new Int32Array(links);
    this.#way = Int32Array.from({ length: links }, (_, stop) => ways.first[stop]!);
    this.#mark = new Float64Array(links);
    this.#isIn = new Uint8Array(links).fill(1);
    const own = [this.#next, this.#last, this.#way, this.#mark, this.#isIn];
    this.#kept = own.map((array) => [array, array.slice()]);
    this.become(order);
  }

  /** Length of all ways between, mm. */
  get lengthMm(): number {
    return this.#lengthMm;
  }

  next(stop: number): number {
    return this.#next[stop]!;
  }

  last(stop: number): number {
    return this.#last[stop]!;
  }

  /** Whether it is neither home nor the end. */
  isStop(link: number): boolean {
    return link < this.#ways.count;
  }

  has(stop: number): boolean {
    return this.#isIn[stop] === 1;
  }

  /** The ways of all stops in the chain, in order. */
  order(): number[] {
    const found: number[] = [];
    const { home, end } = this.#ways;
    for (let stop = this.#next[home]!; stop !== end; stop = this.#next[stop]!)
      found.push(this.#way[stop]!);
    return found;
  }

  /** Takes on a whole tour. */
  become(order: readonly number[]): void {
    const { home, end, stopOf } = this.#ways;
    let last = home;
    for (const way of order) {
      const stop = stopOf[way]!;
      this.#way[stop] = way;
      this.#isIn[stop] = 1;
      this.#link(last, stop);
      last = stop;
    }
    this.#link(last, end);
    this.#markAll();
  }

  take(stop: number): void {
    const [last, next] = [this.#last[stop]!, this.#next[stop]!];
    this.#lengthMm -= this.#cost(last, stop) + this.#cost(stop, next) - this.#cost(last, next);
    this.#link(last, next);
    this.#isIn[stop] = 0;
  }

  /**
   * Puts a stop where it costs least: beside one of its neighbours, or right behind what it waits
   * for, or right before what waits for it.
   */
  put(stop: number, neighbours: Int32Array): void {
    const [low, high] = [this.#lastWaitedFor(stop), this.#firstWaiting(stop)];
    this.#best = Infinity;
    this.#try(stop, low);
    this.#try(stop, this.#last[high]!);
    for (let index = 0; index < neighbours.length; index += 1) {
      const beside = neighbours[index]!;
      if (this.#isIn[beside] === 0) continue;
      const mark = this.#mark[beside]!;
      if (mark >= this.#mark[low]! && mark < this.#mark[high]!) this.#try(stop, beside);
      if (mark > this.#mark[low]! && mark <= this.#mark[high]!)
        this.#try(stop, this.#last[beside]!);
    }
    this.#insert(stop, this.#behind, this.#byWay);
  }

  /** Enters a stop where the way from the last and on to the next is shortest. */
  reenter(stop: number): void {
    const { first } = this.#ways;
    const before = this.#way[this.#last[stop]!]!;
    const behind = this.#way[this.#next[stop]!]!;
    const now = this.#through(before, this.#way[stop]!, behind);
    let least = now;
    for (let way = first[stop]!; way < first[stop + 1]!; way += 1) {
      const length = this.#through(before, way, behind);
      if (length >= least) continue;
      least = length;
      this.#way[stop] = way;
    }
    this.#lengthMm += least - now;
  }

  /** Remembers the chain as it is. */
  keep(): void {
    for (const [own, kept] of this.#kept) kept.set(own);
    this.#keptMm = this.#lengthMm;
  }

  /** Makes it again what it was when kept. */
  goBack(): void {
    for (const [own, kept] of this.#kept) own.set(kept);
    this.#lengthMm = this.#keptMm;
  }

  #best = Infinity;
  #behind = 0;
  #byWay = 0;

  #try(stop: number, last: number): void {
    const ways = this.#ways;
    const before = this.#way[last]!;
    const behind = this.#way[this.#next[last]!]!;
    const now = ways.between(before, behind);
    if (ways.fromWay(before, stop) + ways.toWay(stop, behind) - now >= this.#best) return;
    for (let way = ways.first[stop]!; way < ways.first[stop + 1]!; way += 1) {
      const added = this.#through(before, way, behind) - now;
      if (added >= this.#best) continue;
      this.#best = added;
      this.#behind = last;
      this.#byWay = way;
    }
  }

  #through(before: number, way: number, behind: number): number {
    return this.#ways.between(before, way) + this.#ways.between(way, behind);
  }

  #insert(stop: number, last: number, way: number): void {
    const next = this.#next[last]!;
    this.#lengthMm += this.#best;
    this.#way[stop] = way;
    this.#link(last, stop);
    this.#link(stop, next);
    this.#isIn[stop] = 1;
    const [low, high] = [this.#mark[last]!, this.#mark[next]!];
    const mark = (low + high) / 2;
    this.#mark[stop] = mark;
    if (!(mark > low && mark < high)) this.#markAll();
  }

  /** The last in the chain of those that a stop waits for; home when there is none. */
  #lastWaitedFor(stop: number): number {
    let found = this.#ways.home;
    for (const one of this.#waiting.before[stop]!)
      if (this.#isIn[one] === 1 && this.#mark[one]! > this.#mark[found]!) found = one;
    return found;
  }

  /** The first in the chain of those that wait for a stop; the end when there is none. */
  #firstWaiting(stop: number): number {
    let found = this.#ways.end;
    for (const one of this.#waiting.after[stop]!)
      if (this.#isIn[one] === 1 && this.#mark[one]! < this.#mark[found]!) found = one;
    return found;
  }

  #cost(stop: number, next: number): number {
    return this.#ways.between(this.#way[stop]!, this.#way[next]!);
  }

  #link(stop: number, next: number): void {
    this.#next[stop] = next;
    this.#last[next] = stop;
  }

  /** Marks anew, and measures anew against rounding. */
  #markAll(): void {
    const { home, end } = this.#ways;
    this.#lengthMm = 0;
    let mark = 0;
    this.#mark[home] = 0;
    for (let stop = home; stop !== end;) {
      const next = this.#next[stop]!;
      this.#lengthMm += this.#cost(stop, next);
      mark += 1;
      this.#mark[next] = mark;
      stop = next;
    }
  }
}
