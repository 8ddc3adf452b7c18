import { commonDivisor } from "../common-divisor.ts";
import { kindOf } from "./entry.ts";
import type { Laying, Room } from "./laying.ts";
import type { OrderSearch } from "./order-search.ts";

/**
 * Brings a pool of copies under a lower and lower top in one room: a top is set, and orders are
 * changed until everything lies below it; then the next. Tops fall by bold steps while these
 * succeed, else by smaller ones.
 */
export class Shortening {
  /** The best order, and the room that it was laid in. */
  entries: readonly number[];
  room: Room;
  /** How high it is used. */
  used: number;

  readonly #search: OrderSearch;
  readonly #laying: Laying;
  /** No order comes lower. */
  readonly #bound: number;
  /** Sums of sides, and so all tops, are multiples of this. */
  readonly #grid: number;
  #stride: number;
  #patience = 0;
  #under: Room | null = null;

  /** The entries fit into the room in the order given. */
  constructor(laying: Laying, search: OrderSearch, entries: readonly number[], room: Room) {
    this.#laying = laying;
    this.#search = search;
    this.entries = entries;
    this.room = room;
    this.used = this.#usedBy(entries, room);
    this.#grid = gridOf(entries, room);
    this.#bound = Math.ceil(boundOf(entries, room) / this.#grid) * this.#grid;
    this.#stride = Math.max(this.#grid, (this.used - this.#bound) / 4);
  }

  /** Nothing is to be gained any more. */
  get done(): boolean {
    return this.used <= this.#bound || this.entries.length === 0;
  }

  /** Layings tried at a time; true when the top has come down. */
  go(tries: number): boolean {
    if (this.done) return false;
    if (this.#under === null) this.#aim();
    const under = this.#under!;
    if (this.#search.left > 0 && !this.#search.go(tries)) {
      this.#patience -= tries;
      // The smallest steps are never given up.
      if (this.#patience > 0 || this.#stride <= this.#least()) return false;
      this.#stride = Math.max(this.#least(), this.#stride / 2);
      this.#under = null;
      return false;
    }
    this.entries = Array.from(this.#search.best.subarray(0, this.entries.length));
    this.room = under;
    this.used = this.#usedBy(this.entries, under);
    this.#stride = Math.max(this.#stride, (this.used - this.#bound) / 16);
    this.#under = null;
    return true;
  }

  #aim(): void {
    const lower = Math.floor((this.used - this.#stride) / this.#grid) * this.#grid;
    const height = Math.max(this.#bound, lower);
    this.#under = { ...this.room, height };
    this.#patience = PATIENCE;
    this.#search.begin(this.entries, this.entries.length, [this.#under]);
  }

  #least(): number {
    return Math.max(this.#grid, this.used * LEAST_SHARE);
  }

  #usedBy(entries: readonly number[], room: Room): number {
    this.#laying.lay(Int32Array.from(entries), entries.length, [room]);
    return this.#laying.used;
  }
}

/** Layings before a step counts as too bold. */
const PATIENCE = 4000;
/** Of the top. */
const LEAST_SHARE = 5e-4;

/** Largest common measure of all sides, within what is worth a thought. */
function gridOf(entries: readonly number[], { sides }: Room): number {
  let grid = 0;
  for (const entry of entries) {
    grid = commonDivisor(grid, sides.widths[kindOf(entry)]!);
    grid = commonDivisor(grid, sides.heights[kindOf(entry)]!);
    if (grid < LEAST_GRID) return 1;
  }
  return Math.max(1, grid);
}

/** A thousandth of a mm. */
const LEAST_GRID = 1e4;

/** By area; sides may be turned, so only the shorter one is certain to stand in the way. */
function boundOf(entries: readonly number[], { sides, width }: Room): number {
  let [area, least] = [0, 0];
  for (const entry of entries) {
    const [w, h] = [sides.widths[kindOf(entry)]!, sides.heights[kindOf(entry)]!];
    area += w * h;
    least = Math.max(least, Math.min(w, h));
  }
  return Math.max(area / width, least);
}
