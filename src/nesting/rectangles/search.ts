import { Meter } from "../meter.ts";
import { randomFrom } from "../../random.ts";
import type { SheetChoice } from "../types.ts";
import { Handing, type RectangleNest } from "./laid.ts";
import { LastSheet } from "./last-sheet.ts";
import { Laying } from "./laying.ts";
import { MixSearch } from "./mix.ts";
import { OrderSearch } from "./order-search.ts";
import { arranged, type Bench } from "./recreate.ts";
import { costOf, freeArea, weightOf, type LaidSheet } from "./sheets.ts";
import { Shortening } from "./shorten.ts";
import { inMm, type Rectangles } from "./sizes.ts";
import { entriesOf, leastCost, stockOf, type Stock } from "./stock.ts";

/** After each breath of work. */
export interface RectanglesFound {
  /** Rectangles looked at so far, about 60 millions a second. */
  readonly spent: number;
  /** Null until there is one. A new object only when it is better. */
  readonly best: RectangleNest;
}

/** Between two yields. */
const BREATH = 1_000_000;

/**
 * Lays rectangles on the cheapest set of sheets that it can find, mixed as may be, then with the
 * largest rectangle free on the last of them. Ends when neither can be bettered; else it goes on for
 * as long as it is asked. Sheets without a price are sheets that one has: whether all goes on to a
 * given set is asked with prices of 0.
 *
 * A roll comes alone: its least length is sought, in lengths no longer than the longest.
 *
 * `bound` is what the sheets cost at least, where that is known.
 *
 * @throws RangeError when a roll is offered beside something else.
 */
export function* layRectangles(
  { rectangles }: Pick<Rectangles, "rectangles">,
  choices: readonly SheetChoice[],
  seed: number,
  bound = 0,
): Generator<RectanglesFound, void, void> {
  if (choices.length > 1 && choices.some(({ form }) => form === "roll"))
    throw new RangeError("a roll is laid alone, not beside other sheets");
  const stock = stockOf(rectangles, choices);
  const bench = benchOf(stock, seed);
  const entries = entriesOf(stock);
  const nestOf = (sheets: readonly LaidSheet[]): RectangleNest => {
    const handing = new Handing(rectangles, stock, bench.laying);
    const laid = sheets.map((sheet) => handing.sheet(sheet));
    const fits = rectangles.map(() => false);
    for (const [kind, { members }] of stock.kinds.entries())
      for (const { rectangle } of members)
        fits[rectangle] = stock.offers.some(({ takes }) => takes[kind]!);
    const last = sheets.at(-1);
    const whole = last !== undefined && last.offer.choice.form === "sheet";
    const free = whole ? freeArea(bench.laying, last) : 0;
    return {
      sheets: laid,
      left: handing.left(),
      fits,
      cost: costOf(sheets),
      freeMm2: inMm(inMm(free)),
    };
  };
  const search =
    choices[0]?.form === "roll"
      ? shorterLengths(bench, entries)
      : cheaperSheets(bench, entries, Math.max(bound, leastCost(stock)));
  let [found, best] = [null as readonly LaidSheet[] | null, nestOf([])];
  for (const sheets of search) {
    if (sheets !== found) {
      found = sheets;
      best = nestOf(sheets);
    }
    yield { spent: bench.laying.meter.spent, best };
  }
}

function benchOf(stock: Stock, seed: number): Bench {
  const meter = new Meter();
  const random = randomFrom(seed);
  const laying = new Laying(stock.kinds, stock.copies, meter);
  const search = new OrderSearch(laying, stock.weights, stock.copies, random);
  return { stock, laying, search, random };
}

type Search = Generator<readonly LaidSheet[], void, void>;

/** Yields the best set, over and over. */
function* cheaperSheets(bench: Bench, entries: readonly number[], bound: number): Search {
  if (entries.length === 0) return yield [];
  const { meter } = bench.laying;
  const mix = new MixSearch(bench, entries);
  let last: LastSheet | null = null;
  let sheets = mix.best.sheets;
  yield sheets;
  for (let breath = 0; ; breath++) {
    const end = meter.spent + BREATH;
    const cheapest = mix.complete && costOf(sheets) <= bound * (1 + 1e-9);
    if (mix.complete && (cheapest || breath % LEFTOVER_EVERY === LEFTOVER_EVERY - 1)) {
      last ??= new LastSheet(bench, sheets);
      while (!last.done && meter.spent < end) last.go();
      if (last.sheets !== sheets) {
        sheets = last.sheets;
        mix.adopt({ sheets, left: [] });
      }
      yield sheets;
      if (cheapest && last.done) return;
      continue;
    }
    while (meter.spent < end) {
      if (!mix.change()) continue;
      last = null;
      ({ sheets } = mix.best);
      if (mix.complete && costOf(sheets) <= bound * (1 + 1e-9)) break;
    }
    yield sheets;
  }
}

/** Breaths for the leftover while the money may still come down. */
const LEFTOVER_EVERY = 8;

/** Yields the lengths, over and over: as few as possible, then each as short as possible. */
function* shorterLengths(bench: Bench, entries: readonly number[]): Search {
  if (entries.length === 0) return yield [];
  const { laying, stock, random } = bench;
  const { meter } = laying;
  const whole = Number.isFinite(stock.offers[0]!.area)
    ? yield* fewestLengths(bench, entries)
    : [shortestStart(bench, entries)];
  const parts = whole.map((sheet) => {
    const search = new OrderSearch(laying, stock.weights, sheet.entries.length, random);
    return { sheet, by: new Shortening(laying, search, sheet.entries, sheet.room) };
  });
  let sheets = whole;
  for (let turn = 0; ; turn++) {
    yield sheets;
    if (parts.every(({ by }) => by.done)) return;
    const end = meter.spent + BREATH;
    const { by } = parts[turn % parts.length]!;
    let better = false;
    while (!by.done && meter.spent < end) if (by.go(TRIES)) better = true;
    if (better)
      sheets = parts.map((part) => ({
        ...part.sheet,
        room: part.by.room,
        entries: part.by.entries,
      }));
  }
}

const TRIES = 200;

/** On lengths that have an end. */
function* fewestLengths(
  bench: Bench,
  entries: readonly number[],
): Generator<readonly LaidSheet[], readonly LaidSheet[], void> {
  const { meter } = bench.laying;
  const mix = new MixSearch(bench, entries);
  const bound = leastCost(bench.stock);
  const enough = meter.spent + LOOKS_FOR_FEWEST;
  while (!(mix.complete && costOf(mix.best.sheets) <= bound * (1 + 1e-9))) {
    const end = meter.spent + BREATH;
    while (meter.spent < end && !mix.change());
    yield mix.best.sheets;
    if (meter.spent > enough) break;
  }
  return mix.best.sheets;
}

/** About a second. */
const LOOKS_FOR_FEWEST = 60_000_000;

/** The lowest of a few orders on a roll without an end. */
function shortestStart(bench: Bench, entries: readonly number[]): LaidSheet {
  const { laying, stock } = bench;
  const offer = stock.offers[0]!;
  const room = offer.upright;
  let [best, used] = [entries, Infinity];
  const starts = Math.max(2, Math.min(20, Math.floor(4000 / entries.length)));
  for (let start = 0; start < starts; start++) {
    const order = start === 0 ? entries : arranged(bench, entries);
    laying.lay(Int32Array.from(order), order.length, [room]);
    if (laying.used >= used) continue;
    used = laying.used;
    best = order;
  }
  return { offer, room, lying: false, entries: best, weight: weightOf(best, stock) };
}
