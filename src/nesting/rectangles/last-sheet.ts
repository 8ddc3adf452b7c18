import { OrderSearch } from "./order-search.ts";
import { arranged, type Bench } from "./recreate.ts";
import { drawPlace, freeArea, parted, weightOf, type LaidSheet } from "./sheets.ts";
import { Shortening } from "./shorten.ts";

/**
 * Of a complete set of sheets it makes the largest free rectangle on the last one larger: copies
 * are drawn from it on to the others, and those that stay are laid lower, from either edge.
 */
export class LastSheet {
  /** The last one at the end. */
  sheets: readonly LaidSheet[] = [];
  /** The largest rectangle free there, units squared. */
  free = 0;

  readonly #bench: Bench;
  #lowerings: readonly Lowering[] = [];
  #turn = 0;

  constructor(bench: Bench, sheets: readonly LaidSheet[]) {
    this.#bench = bench;
    this.#begin(sheets);
  }

  /** Nothing is to be gained any more. */
  get done(): boolean {
    return this.sheets.length === 1 && this.#lowerings.every(({ by }) => by.done);
  }

  /** One attempt; true when more is free. */
  go(): boolean {
    this.#bench.laying.meter.spend(ATTEMPT_COST);
    const turn = this.#turn++ % 4;
    if (turn < 2 && this.sheets.length > 1) return this.#draw();
    const { lying, by } = this.#lowerings[turn % this.#lowerings.length]!;
    if (!by.go(TRIES)) return false;
    const last = { ...this.sheets.at(-1)!, lying, room: by.room, entries: by.entries };
    const free = freeArea(this.#bench.laying, last);
    if (free <= this.free) return false;
    this.sheets = [...this.sheets.slice(0, -1), last];
    this.free = free;
    return true;
  }

  #begin(sheets: readonly LaidSheet[]): void {
    const free = sheets.map((sheet) => freeArea(this.#bench.laying, sheet));
    const last = free.indexOf(Math.max(...free));
    this.sheets = [...sheets.filter((_, at) => at !== last), sheets[last]!];
    this.free = free[last]!;
    this.#lowerings = this.#lowered();
  }

  /** Fills some of the other sheets anew, from what lies on them and on the last one. */
  #draw(): boolean {
    const { random, search, laying, stock } = this.#bench;
    const others = this.sheets.slice(0, -1);
    const last = this.sheets.at(-1)!;
    const chosen = new Set<LaidSheet>();
    const count = 1 + Math.floor(random() * MOST_CHOSEN);
    for (let lot = 0; lot < count; lot++) chosen.add(others[Math.floor(random() * others.length)]!);
    const drawn = [...chosen];
    const pool = arranged(
      this.#bench,
      [...drawn, last].flatMap(({ entries }) => entries),
    );
    const places = drawn.map(({ offer }) => drawPlace(offer, random));
    const rooms = places.map(({ room }) => room);
    if (!search.begin(pool, pool.length, rooms)) search.go(TRIES);
    const list = search.best.subarray(0, pool.length);
    laying.lay(list, pool.length, rooms);
    const { laid, left } = parted(laying, Array.from(list), rooms.length);
    const kept = others.filter((sheet) => !chosen.has(sheet));
    const filled = places
      .map((place, at) => ({ ...place, entries: laid[at]!, weight: weightOf(laid[at]!, stock) }))
      .filter(({ entries }) => entries.length > 0);
    if (left.length === 0) {
      // A sheet less: the next one is the last.
      this.#begin([...kept, ...filled]);
      return true;
    }
    const place = drawPlace(last.offer, random);
    if (laying.lay(Int32Array.from(left), left.length, [place.room]) < left.length) return false;
    const end = { ...place, entries: left, weight: weightOf(left, stock) };
    const free = freeArea(laying, end);
    if (free <= this.free) return false;
    this.sheets = [...kept, ...filled, end];
    this.free = free;
    this.#lowerings = this.#lowered();
    return true;
  }

  #lowered(): readonly Lowering[] {
    const { laying, stock, random } = this.#bench;
    const { offer, entries, room, lying } = this.sheets.at(-1)!;
    const lowerings: Lowering[] = [];
    for (const aside of [false, true]) {
      const whole = aside ? offer.lying : offer.upright;
      const fits = laying.lay(Int32Array.from(entries), entries.length, [whole]) === entries.length;
      // In the way that it lies now it fits, if only under the top that it was laid under.
      if (!fits && aside !== lying) continue;
      const search = new OrderSearch(laying, stock.weights, entries.length, random);
      const by = new Shortening(laying, search, entries, fits ? whole : room);
      lowerings.push({ lying: aside, by });
    }
    return lowerings;
  }
}

/** From the upper edge, or from the right one. */
interface Lowering {
  readonly lying: boolean;
  readonly by: Shortening;
}

/** Beside the layings, as rectangles looked at. */
const ATTEMPT_COST = 500;
const TRIES = 200;
const MOST_CHOSEN = 3;
