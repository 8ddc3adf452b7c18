import type { Random } from "../../random.ts";
import { FIRST, kindOf, TURNED } from "./entry.ts";
import type { Laying } from "./laying.ts";
import type { OrderSearch } from "./order-search.ts";
import { drawPlace, parted, weightOf, type LaidSheet, type Sheets } from "./sheets.ts";
import type { Offer, Stock } from "./stock.ts";

/** Sheets that may still be bought. */
export interface Purse {
  readonly money: number;
  /** How many of an offer are taken already. */
  readonly taken: ReadonlyMap<Offer, number>;
}

/** What laying sheets by lot takes. */
export interface Bench {
  readonly stock: Stock;
  readonly laying: Laying;
  readonly search: OrderSearch;
  readonly random: Random;
}

/** Sheet after sheet, each that which takes most for its cost, but for `noise`. */
export function bySheets(
  { stock, laying, random }: Bench,
  pool: readonly number[],
  purse: Purse,
  noise: number,
): Sheets {
  const sheets: LaidSheet[] = [];
  const taken = new Map(purse.taken);
  let left = pool;
  let { money } = purse;
  while (left.length > 0) {
    const list = Int32Array.from(left);
    let best: { readonly sheet: LaidSheet; readonly left: readonly number[] } | null = null;
    let most = 0;
    for (const offer of stock.offers) {
      if (offer.cost > money || (taken.get(offer) ?? 0) >= offer.most) continue;
      const place = drawPlace(offer, random);
      const count = laying.lay(list, left.length, [place.room]);
      if (count === 0) continue;
      const after = parted(laying, left, 1);
      const entries = after.laid[0]!;
      const weight = weightOf(entries, stock);
      // The last sheet is the cheapest that takes all the rest.
      const score =
        count === left.length
          ? FULL + 1 / (1 + offer.cost)
          : (weight / offer.guide) * (1 + noise * (random() - 0.5));
      if (best !== null && score <= most) continue;
      best = { sheet: { ...place, entries, weight }, left: after.left };
      most = score;
    }
    if (best === null) break;
    const { offer } = best.sheet;
    sheets.push(best.sheet);
    taken.set(offer, (taken.get(offer) ?? 0) + 1);
    money -= offer.cost;
    left = best.left;
  }
  return { sheets, left };
}

/** Above what a sheet takes for its cost. */
const FULL = 2;

/** On a set of sheets drawn by lot that has the area; null when no draw succeeds. */
export function byPlan(
  { stock, laying, search, random }: Bench,
  pool: readonly number[],
  purse: Purse,
  tries: number,
): Sheets | null {
  const offers = planned(stock, pool, purse, random);
  if (offers === null) return null;
  const places = offers.map((offer) => drawPlace(offer, random));
  const rooms = places.map(({ room }) => room);
  if (!search.begin(pool, pool.length, rooms)) search.go(tries);
  const list = search.best.subarray(0, pool.length);
  laying.lay(list, pool.length, rooms);
  const { laid, left } = parted(laying, Array.from(list), rooms.length);
  const sheets = places
    .map((place, at) => ({ ...place, entries: laid[at]!, weight: weightOf(laid[at]!, stock) }))
    .filter(({ entries }) => entries.length > 0);
  return { sheets, left };
}

function planned(
  { offers, areas }: Stock,
  pool: readonly number[],
  { money, taken }: Purse,
  random: Random,
): readonly Offer[] | null {
  const area = pool.reduce((sum, entry) => sum + areas[kindOf(entry)]!, 0);
  const free = (offer: Offer, drawn: readonly Offer[]): boolean =>
    drawn.filter((other) => other === offer).length + (taken.get(offer) ?? 0) < offer.most;
  for (let draw = 0; draw < MOST_DRAWS; draw++) {
    const drawn: Offer[] = [];
    let [spent, covered] = [0, 0];
    while (covered < area) {
      const within = offers.filter((offer) => spent + offer.cost <= money && free(offer, drawn));
      if (within.length === 0) break;
      const offer = within[Math.floor(random() * within.length)]!;
      drawn.push(offer);
      spent += offer.cost;
      covered += offer.area;
    }
    if (covered < area) continue;
    if (pool.every((entry) => drawn.some(({ takes }) => takes[kindOf(entry)]!))) return drawn;
  }
  return null;
}

const MOST_DRAWS = 20;

/** Larger ones first, in one or another sense of the word, with much left to chance. */
export function arranged(
  { stock: { kinds, areas }, random }: Bench,
  pool: readonly number[],
): readonly number[] {
  const sense = Math.floor(random() * 5);
  const size = (kind: number): number => {
    const { width, height } = kinds[kind]!;
    return [areas[kind]!, width, height, width + height, 0][sense]!;
  };
  return pool
    .map((entry) => {
      const key =
        sense === 4 ? random() : size(kindOf(entry)) * (1 + ORDER_NOISE * (random() - 0.5));
      return { key, entry: wishing(entry, random) };
    })
    .sort((a, b) => b.key - a.key)
    .map(({ entry }) => entry);
}

const ORDER_NOISE = 0.4;

function wishing(entry: number, random: Random): number {
  const lot = random();
  if (lot < FIRSTS) return entry ^ FIRST;
  return lot < TURNS ? entry ^ TURNED : entry;
}

/** Lots below the first put an entry first, or no longer; below the second they turn it. */
const FIRSTS = 0.004;
const TURNS = 0.12;
