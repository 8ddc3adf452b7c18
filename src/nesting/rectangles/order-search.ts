import type { Random } from "../../random.ts";
import { FIRST, kindOf, TURNED } from "./entry.ts";
import type { Laying, Room } from "./laying.ts";

/**
 * Changes the order in which copies are laid until the rooms given take all of them, or as much
 * weight as can be found: swaps, moves and turns of single entries, accepted late (Burke and Bykov
 * 2017, from memory): a change may stand when it is no worse than what stood some changes ago.
 */
export class OrderSearch {
  /** The best order found; in it what was left out weighs least. */
  readonly best: Int32Array;
  /** What the best order leaves out; 0 when everything is laid. */
  left = Infinity;

  readonly #laying: Laying;
  /** Of one copy of each kind. */
  readonly #weights: Float64Array;
  readonly #random: Random;
  readonly #list: Int32Array;
  readonly #history: Float64Array;
  #length = 0;
  #rooms: readonly Room[] = [];
  #now = 0;
  #tries = 0;
  #idle = 0;
  #lowest = Infinity;

  constructor(laying: Laying, weights: Float64Array, copies: number, random: Random) {
    this.#laying = laying;
    this.#weights = weights;
    this.#random = random;
    this.#list = new Int32Array(copies);
    this.best = new Int32Array(copies);
    this.#history = new Float64Array(MEMORY);
  }

  /** Begins anew with an order and what it leaves out: true when that is nothing. */
  begin(list: ArrayLike<number>, length: number, rooms: readonly Room[]): boolean {
    for (let at = 0; at < length; at++) this.#list[at] = list[at]!;
    this.#length = length;
    this.#rooms = rooms;
    this.#tries = 0;
    this.#idle = 0;
    this.#now = this.#leftOut();
    this.#lowest = this.#now;
    this.#history.fill(this.#now);
    this.left = this.#now;
    this.best.set(this.#list.subarray(0, length));
    return this.left === 0;
  }

  /** Makes so many changes, or fewer when everything is laid: true then. */
  go(tries: number): boolean {
    if (this.left === 0) return true;
    this.#laying.meter.spend(tries);
    const end = this.#tries + tries;
    for (; this.#tries < end; this.#tries++) {
      this.#change();
      if (this.#now < this.left) {
        this.left = this.#now;
        this.best.set(this.#list.subarray(0, this.#length));
        if (this.left === 0) return true;
      }
      if (this.#now < this.#lowest) {
        this.#lowest = this.#now;
        this.#idle = 0;
      } else if (++this.#idle > PATIENCE) this.#shake();
    }
    return false;
  }

  /** After long without gain: for a while nearly everything is accepted. */
  #shake(): void {
    let all = 0;
    for (let at = 0; at < this.#length; at++) all += this.#weights[kindOf(this.#list[at]!)]!;
    this.#history.fill(all * SHAKEN_SHARE);
    this.#idle = 0;
    this.#lowest = Infinity;
  }

  #change(): void {
    const list = this.#list;
    const random = this.#random;
    const from = Math.floor(random() * this.#length);
    const to = Math.floor(random() * this.#length);
    const lot = random();
    const slot = this.#tries % MEMORY;
    if (lot < TURNS) {
      const wish = lot < FIRSTS ? FIRST : TURNED;
      list[from]! ^= wish;
      if (!this.#stands(slot)) list[from]! ^= wish;
    } else if (list[from] === list[to]) {
      return;
    } else if (lot < SWAPS) {
      swap(list, from, to);
      if (!this.#stands(slot)) swap(list, from, to);
    } else {
      move(list, from, to);
      if (!this.#stands(slot)) move(list, to, from);
    }
  }

  #stands(slot: number): boolean {
    const left = this.#leftOut();
    const stands = left <= this.#now || left <= this.#history[slot]!;
    if (stands) this.#now = left;
    if (this.#now < this.#history[slot]!) this.#history[slot] = this.#now;
    return stands;
  }

  #leftOut(): number {
    const laying = this.#laying;
    if (laying.lay(this.#list, this.#length, this.#rooms) === this.#length) return 0;
    let left = 0;
    for (let at = 0; at < this.#length; at++)
      if (laying.room[at]! < 0) left += this.#weights[kindOf(this.#list[at]!)]!;
    return left;
  }
}

const MEMORY = 50;
/** Changes without gain after which it is shaken. */
const PATIENCE = 20_000;
const SHAKEN_SHARE = 0.15;
/** Lots below these put an entry first, or no longer; turn one; swap two; the rest move one. */
const FIRSTS = 0.01;
const TURNS = 0.15;
const SWAPS = 0.6;

function swap(list: Int32Array, a: number, b: number): void {
  const kept = list[a]!;
  list[a] = list[b]!;
  list[b] = kept;
}

/** Takes an entry out and puts it in so that it stands at `to`. */
function move(list: Int32Array, from: number, to: number): void {
  const kept = list[from]!;
  if (to > from) list.copyWithin(from, from + 1, to + 1);
  else list.copyWithin(to + 1, to, from);
  list[to] = kept;
}
