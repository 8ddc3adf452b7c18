import { arranged, byPlan, bySheets, type Bench, type Purse } from "./recreate.ts";
import { costOf, weightOf, type LaidSheet, type Sheets } from "./sheets.ts";
import type { Offer } from "./stock.ts";

/**
 * Looks for the cheapest sheets that take everything: some sheets are cleared and their copies laid
 * again on others, always for less money than the best found so far costs; what finds no place
 * waits, and its weight is to come down to nothing (goal-driven: Wei, Oon, Zhu and Lim 2013; ruin and
 * recreate: Gardeyn and Wauters 2022; both from memory). Where the stock does not take everything,
 * it lays as much as it can.
 */
export class MixSearch {
  /** The cheapest complete set so far, or the one that leaves least. */
  best: Sheets;

  readonly #bench: Bench;
  #now: Sheets;
  #left = Infinity;
  readonly #history = new Float64Array(MEMORY);
  #changes = 0;

  constructor(bench: Bench, entries: readonly number[]) {
    this.#bench = bench;
    this.best = this.#first(entries);
    this.#now = this.best;
    this.#aim();
  }

  get complete(): boolean {
    return this.best.left.length === 0;
  }

  /** Another set, no dearer and no less complete than the best, to go on from. */
  adopt(sheets: Sheets): void {
    this.best = sheets;
  }

  /** One change; true when it led to a better set. */
  change(): boolean {
    const { random, stock, laying } = this.#bench;
    const { kept, pool } = this.#cleared();
    laying.meter.spend(CHANGE_COST + pool.length);
    const arrangement = arranged(this.#bench, pool);
    const purse = this.#purse(kept);
    const planned = random() < PLANNED ? byPlan(this.#bench, arrangement, purse, TRIES) : null;
    const again = planned ?? bySheets(this.#bench, arrangement, purse, NOISE);
    const left = weightOf(again.left, stock);
    const slot = this.#changes++ % MEMORY;
    if (left <= this.#left || left <= this.#history[slot]!) {
      this.#now = { sheets: [...kept, ...again.sheets], left: again.left };
      this.#left = left;
    }
    this.#history[slot] = Math.min(this.#history[slot]!, this.#left);
    const better = this.complete
      ? this.#left === 0 && this.#now.left.length === 0
      : this.#left < weightOf(this.best.left, stock);
    if (!better) return false;
    this.best = this.#now;
    this.#aim();
    return true;
  }

  /** The best of a few constructed without looking back. */
  #first(entries: readonly number[]): Sheets {
    const { stock } = this.#bench;
    const purse: Purse = { money: Infinity, taken: new Map() };
    let best = bySheets(this.#bench, entries, purse, 0);
    const starts = Math.max(1, Math.min(MOST_STARTS, Math.floor(COPIES_AT_START / entries.length)));
    for (let start = 1; start < starts; start++) {
      const next = bySheets(this.#bench, arranged(this.#bench, entries), purse, NOISE);
      const order =
        weightOf(next.left, stock) - weightOf(best.left, stock) ||
        costOf(next.sheets) - costOf(best.sheets);
      if (order < 0) best = next;
    }
    return best;
  }

  /** Sets out for less money: sheets are given up by lot until what is left costs less. */
  #aim(): void {
    const { random, stock } = this.#bench;
    const sheets = [...this.#now.sheets];
    const left = [...this.#now.left];
    const limit = this.#limit();
    while (sheets.length > 0 && costOf(sheets) > limit) {
      const [gone] = sheets.splice(Math.floor(random() * sheets.length), 1);
      left.push(...gone!.entries);
    }
    this.#now = { sheets, left };
    this.#left = weightOf(left, stock);
    this.#history.fill(this.#left);
  }

  /** The most that a better set may cost. */
  #limit(): number {
    if (!this.complete) return Infinity;
    const cost = costOf(this.best.sheets);
    return cost - Math.max(cost * LEAST_GAIN, Number.MIN_VALUE);
  }

  #purse(kept: readonly LaidSheet[]): Purse {
    const taken = new Map<Offer, number>();
    for (const { offer } of kept) taken.set(offer, (taken.get(offer) ?? 0) + 1);
    return { money: this.#limit() - costOf(kept), taken };
  }

  /** A few sheets cleared, rather such as are badly used for what they cost. */
  #cleared(): { readonly kept: readonly LaidSheet[]; readonly pool: readonly number[] } {
    const { random } = this.#bench;
    const { sheets, left } = this.#now;
    const count = 1 + Math.floor(random() * MOST_CLEARED);
    const chosen = new Set(
      sheets
        .map((sheet) => {
          const waste = Math.max(0, sheet.offer.guide - sheet.weight);
          return { sheet, lot: (random() < 0.5 ? waste : 1e-6) * random() };
        })
        .sort((a, b) => b.lot - a.lot)
        .slice(0, count)
        .map(({ sheet }) => sheet),
    );
    return {
      kept: sheets.filter((sheet) => !chosen.has(sheet)),
      pool: [...left, ...[...chosen].flatMap(({ entries }) => entries)],
    };
  }
}

/** Beside the layings, as rectangles looked at; where nothing can be laid it is all. */
const CHANGE_COST = 500;
const MEMORY = 30;
const MOST_CLEARED = 4;
/** Share of the changes that draw the sheets first, and in these layings of the pool. */
const PLANNED = 0.3;
const TRIES = 60;
const NOISE = 0.3;
const MOST_STARTS = 20;
/** For all starts together: a thousand copies get few. */
const COPIES_AT_START = 2000;
/** So that rounding does not pass for a gain. */
const LEAST_GAIN = 1e-9;
