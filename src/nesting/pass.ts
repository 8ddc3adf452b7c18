import type { Bed, Variant } from "./bed.ts";
import type { NoFitCache } from "./no-fit.ts";
import {
  forgetShape,
  layCopy,
  openSheet,
  prepare,
  type OpenSheet,
  type Preference,
} from "./open-sheet.ts";
import type { Random } from "./random.ts";
import type { Shape } from "./shapes.ts";
import type { Unplaced } from "./types.ts";

/** How one pass goes about it. */
export interface Plan {
  readonly batches: readonly Batch[];
  readonly preference: Preference;
  /** For each shape, which of its turns are tried, by number: all where there are few. */
  readonly turns: readonly ReadonlySet<number>[];
  /** How often a copy is first tried in one way drawn by lot, before all ways are: 0 to 1. */
  readonly whim: number;
  readonly random: Random;
}

/** Copies of one shape that are laid one after the other. */
export interface Batch {
  readonly shape: number;
  readonly copies: number;
}

/** The first pass: large pieces first, each as low as it will go. */
export function firstPlan(shapes: readonly Shape[]): Plan {
  const batches = shapes.map(({ piece, outerAreaMm2 }, shape) => ({
    shape,
    copies: piece.copies,
    size: outerAreaMm2,
  }));
  const turns = shapes.map((shape) => numbersOf(shape.turns.slice(0, MOST_WAYS)));
  return { batches: bySize(batches), preference: PREFERENCES[0]!, turns, whim: 0, random: () => 0 };
}

/** A later pass: another order near to that by size, another preference, some turns by lot. */
export function variedPlan(shapes: readonly Shape[], step: number, random: Random): Plan {
  const size = SIZES[step % SIZES.length]!;
  const spread = SPREADS[step % SPREADS.length]!;
  const batches = shapes.flatMap((shape, index) =>
    split(shape.piece.copies, 1 + Math.floor(random() * MOST_BATCHES)).map((copies) => ({
      shape: index,
      copies,
      size: size(shape) * Math.exp(spread * (2 * random() - 1)),
    })),
  );
  return {
    batches: bySize(batches),
    preference: PREFERENCES[step % PREFERENCES.length]!,
    turns: shapes.map((shape) =>
      numbersOf(
        step % WIDEN_EVERY === 0 ? someOf(shape.turns, random) : shape.turns.slice(0, MOST_WAYS),
      ),
    ),
    whim: WHIMS[step % WHIMS.length]!,
    random,
  };
}

/** Every so many passes the turns are drawn by lot from all there are. */
const WIDEN_EVERY = 4;
/** More ways to lay a shape than this are not tried in one pass: its time goes with them. */
const MOST_WAYS = 8;

function numbersOf(turns: Shape["turns"]): ReadonlySet<number> {
  return new Set(turns.map(({ number }) => number));
}

function someOf(turns: Shape["turns"], random: Random): Shape["turns"] {
  if (turns.length <= MOST_WAYS) return turns;
  const drawn = turns.map((turn) => ({ turn, lot: random() })).sort((a, b) => a.lot - b.lot);
  return drawn.slice(0, MOST_WAYS).map(({ turn }) => turn);
}

const PREFERENCES: readonly Preference[] = [
  { axis: "y", end: 1 },
  { axis: "x", end: 1 },
  { axis: "y", end: 0.5 },
  { axis: "y", end: 0 },
  { axis: "x", end: 0.5 },
];
/** What "large" may mean. */
const SIZES: readonly ((shape: Shape) => number)[] = [
  ({ outerAreaMm2 }) => outerAreaMm2,
  ({ turns }) => longestSide(turns[0]!.box) ** 2,
];
/** How many times the copies of one shape may have their turn in a pass. */
const MOST_BATCHES = 3;
/** How far, as a power of e, a shape's size may be misjudged to vary the order. */
const SPREADS: readonly number[] = [0, 0.3, 0.6, 1.2];
/** How often copies are turned by lot, from pass to pass. */
const WHIMS: readonly number[] = [0, 0.5, 0.15];

function longestSide({ minX, minY, maxX, maxY }: Shape["turns"][number]["box"]): number {
  return Math.max(maxX - minX, maxY - minY);
}

/** Shares a number out as evenly as it goes, in no more shares than it has ones. */
function split(copies: number, shares: number): readonly number[] {
  const count = Math.min(copies, shares);
  return Array.from({ length: count }, (_, share) => Math.floor((copies + share) / count));
}

/** By falling size; equal ones as they came. */
function bySize(batches: readonly (Batch & { readonly size: number })[]): readonly Batch[] {
  return [...batches].sort((a, b) => b.size - a.size);
}

export interface Filled {
  readonly sheets: readonly OpenSheet[];
  readonly unplaced: readonly Unplaced[];
}

/**
 * Lays all copies, each on the first sheet that has room for it. Yields how many copies have been
 * seen to, often: before each of them and within. Null when more than `mostSheets` would be needed.
 */
export function* fillSheets(
  shapes: readonly Shape[],
  bed: Bed,
  plan: Plan,
  cache: NoFitCache,
  mostSheets = Infinity,
): Generator<number, Filled | null, void> {
  const sheets: OpenSheet[] = [];
  const left = shapes.map(() => 0);
  const filling: Filling = { sheets, shapes, bed, plan, cache };
  let seen = 0;
  for (const batch of plan.batches) {
    for (const sheet of sheets) forgetShape(sheet);
    for (let copy = 0; copy < batch.copies; copy++) {
      yield seen;
      const laid = yield* layOne(filling, batch.shape, seen);
      if (sheets.length > mostSheets) return null;
      if (laid) seen++;
      else {
        left[batch.shape] = left[batch.shape]! + batch.copies - copy;
        seen += batch.copies - copy;
        break;
      }
    }
  }
  const unplaced = shapes.flatMap(({ piece: { part } }, shape) => {
    const reason = bed.variants[shape]!.length === 0 ? TOO_LARGE : stockUsedUp(bed);
    return left[shape] === 0 ? [] : [{ part, copies: left[shape]!, reason }];
  });
  return { sheets, unplaced };
}

const TOO_LARGE = "larger than the sheet less its margin in every allowed turn";

function stockUsedUp({ choice: { form, onHand } }: Bed): string {
  const stock = form === "sheet" ? (onHand === 1 ? "sheet" : "sheets") : "m of roll";
  return `no room left on the ${onHand ?? 0} ${stock} on hand`;
}

/** The plan's turns where any of them fits the sheet, else all that do. */
function waysOf(variants: readonly Variant[], turns: ReadonlySet<number>): readonly Variant[] {
  const planned = variants.filter(({ number }) => turns.has(number));
  return planned.length > 0 ? planned : variants.slice(0, MOST_WAYS);
}

/** A pass under way. */
interface Filling {
  readonly sheets: OpenSheet[];
  readonly shapes: readonly Shape[];
  readonly bed: Bed;
  readonly plan: Plan;
  readonly cache: NoFitCache;
}

function* layOne(
  { sheets, shapes, bed, plan, cache }: Filling,
  index: number,
  seen: number,
): Generator<number, boolean, void> {
  const { preference, turns, whim, random } = plan;
  const variants = waysOf(bed.variants[index]!, turns[index]!);
  if (variants.length === 0) return false;
  const roll = bed.choice.form === "roll";
  // A roll is filled from its end: to the left would be along all of its length.
  const wish: Preference = roll ? { ...preference, axis: "y" } : preference;
  const lay = (sheet: OpenSheet, ways: readonly Variant[]): boolean =>
    layCopy(sheet, shapes[index]!, index, ways, wish, cache);
  const whimsical = random() < whim;
  const drawn = whimsical ? [variants[Math.floor(random() * variants.length)]!] : variants;
  const open = sheets.filter(({ fullFor }) => !fullFor.has(index));
  for (const ways of whimsical ? [drawn, variants] : [variants]) {
    for (const sheet of open) {
      for (const way of ways) if (prepare(sheet, shapes[index]!, way, cache)) yield seen;
      if (lay(sheet, ways)) return true;
      if (ways === variants) sheet.fullFor.add(index);
      yield seen;
    }
  }
  const most = roll ? 1 : (bed.choice.onHand ?? Infinity);
  if (sheets.length >= most) return false;
  const sheet = openSheet(bed);
  sheets.push(sheet);
  return lay(sheet, drawn);
}
