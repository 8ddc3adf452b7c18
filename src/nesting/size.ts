import { Amount } from "../money.ts";
import { bedOf, stepFor } from "./bed.ts";
import { costBound } from "./cost-bound.ts";
import { mostSheets } from "./lengths.ts";
import type { Meter } from "./meter.ts";
import { NoFitCache } from "./no-fit.ts";
import type { Outline } from "./outline.ts";
import { fillSheets, type Offer } from "./pass.ts";
import type { Plan } from "./plan.ts";
import { randomFrom, type Random } from "./random.ts";
import { closeUp, type Closer } from "./separation/closing.ts";
import { shapesOf, type Shape } from "./shapes.ts";
import { judged, order, triedOf, type Tried } from "./tried.ts";
import type { Nest, NestPiece, SheetChoice } from "./types.ts";

/** A size of sheet with what its passes share. */
export interface Size extends Offer {
  /** No nest on sheets of this size alone costs less. */
  readonly bound: Amount;
  /** Closes up the best nest of the size; null before, and after there was a better one from elsewhere. */
  closing: Generator<Closer, void, void> | null;
  /** What it draws its lots from. */
  readonly random: Random;
}

/** What passes need. */
export interface Ready {
  readonly shapes: readonly Shape[];
  /** One for each choice. */
  readonly sizes: readonly Size[];
}

/** One shape and one size after the other, for each takes a while. */
export function* prepared(
  outlines: readonly Outline[],
  choices: readonly SheetChoice[],
  meter: Meter,
  seed: number,
): Generator<void, Ready, void> {
  const shapes = yield* shapesOf(outlines, meter);
  const bought = choices.filter(({ offcut }) => offcut !== true);
  const stepMm = stepFor(shapes, bought.length > 0 ? bought : choices);
  const caches = new Map(choices.map(({ gapMm }) => [gapMm, new NoFitCache(meter)]));
  const pieces = outlines.map(({ piece }) => piece);
  const sizes: Size[] = [];
  for (const choice of choices) {
    const cache = caches.get(choice.gapMm)!;
    const bed = yield* bedOf(choice, shapes, stepMm, cache);
    sizes.push({
      bed,
      cache,
      most: mostSheets(choice),
      bound: costBound(pieces, [choice]),
      closing: null,
      random: randomFrom(seed - 1 - sizes.length),
    });
    yield;
  }
  return { shapes, sizes };
}

/** What is nested, and how far the work on it has come. */
export interface Nested {
  readonly label: string;
  readonly outlines: readonly Outline[];
  readonly meter: Meter;
  /** Rounds of passes that were not broken off. */
  readonly passes: number;
}

/** A round's work on one size, judged, or what was before where that is no worse. Yields copies seen to. */
export function* passOver(
  job: Nested,
  shapes: readonly Shape[],
  size: Size,
  plan: Plan,
  before: Tried | null,
  best: Nest | null,
): Generator<number, Tried, void> {
  const { bed, bound } = size;
  const most = before === null ? Infinity : worthwhileSheets(bed.choice, before.nest, best, bound);
  if (before !== null && most === 0) return before;
  if (before !== null && isToBeClosed(job, before, most)) {
    const closed = yield* closeOn(job, shapes, size, before);
    if (closed !== null) return closed;
  }
  const filled = yield* fillSheets(shapes, [size], plan, { sheets: most });
  const now = filled === null ? null : triedOf(shapes, [bed.choice], filled);
  if (before !== null && (now === null || order(before, now) <= 0)) return before;
  size.closing = null;
  return judged(job, now!);
}

/** After the first passes, where one sheet less than before could be of use. */
function isToBeClosed({ passes }: Nested, { leftOver, nest }: Tried, most: number): boolean {
  if (leftOver > 0 || passes < FIRST_PASSES || passes % PASS_EVERY === 0) return false;
  return nest.sheets.length <= most + 1;
}

/** Passes before the closing up begins; then every so many rounds there is one again. */
export const FIRST_PASSES = 2;
const PASS_EVERY = 4;

/** Closes up for a while; null when there is nothing to be gained by that. Yields copies seen to. */
function* closeOn(
  job: Nested,
  shapes: readonly Shape[],
  size: Size,
  before: Tried,
): Generator<number, Tried | null, void> {
  const { choice } = size.bed;
  const leastSheets =
    choice.form === "roll"
      ? before.nest.sheets.length
      : choice.price.isZero()
        ? 1
        : size.bound.div(choice.price).ceil().toNumber();
  size.closing ??= closeUp(
    { shapes, choice, sheets: before.filled.sheets, leastSheets },
    size.random,
  );
  const copies = copiesOf(shapes.map(({ piece }) => piece));
  let [best, spent] = [before, 0];
  while (spent < MOST_OF_CLOSING) {
    const turn = size.closing.next();
    if (turn.done === true) return best === before ? null : best;
    spent += turn.value.spent;
    if (turn.value.found !== null) {
      const now = triedOf(shapes, [choice], turn.value.found);
      if (order(now, best) < 0) best = judged(job, now);
    }
    // The last copy has been seen to when the round ends.
    yield Math.min(copies - 1, Math.floor((copies * spent) / MOST_OF_CLOSING));
  }
  return best;
}

/** Depths asked for in a round on one size: about half a second. */
const MOST_OF_CLOSING = 2_000_000;

/** On more sheets than this a size can not win, neither the choice of sizes nor over its last nest. */
function worthwhileSheets(
  { form, price }: SheetChoice,
  before: Nest,
  best: Nest | null,
  bound: Amount,
): number {
  if (best === null) return Infinity;
  const leads = before === best || price.isZero();
  if (leads) return form === "sheet" ? before.sheets.length : Infinity;
  if (bound.gte(best.sheetCost)) return 0;
  if (form === "roll") return Infinity;
  return best.sheetCost.div(price).ceil().toNumber() - 1;
}

/** 1 when there is nothing to nest. */
export function copiesOf(pieces: readonly Pick<NestPiece, "copies">[]): number {
  return Math.max(
    1,
    pieces.reduce((sum, { copies }) => sum + copies, 0),
  );
}

/** Offcuts from the largest on, then what is bought from the cheapest for its area on. */
export function offcutsFirst<T>(
  all: readonly T[],
  choiceOf: (one: T) => SheetChoice,
): readonly T[] {
  const keyed = all.map((one) => {
    const choice = choiceOf(one);
    const { form, widthMm, heightMm, price, offcut = false } = choice;
    const areaMm2 = widthMm * (form === "roll" ? MM_PER_M : (heightMm ?? 0));
    return { one, offcut, rank: offcut ? -areaMm2 : price.div(areaMm2).toNumber() };
  });
  return keyed
    .sort((a, b) => Number(b.offcut) - Number(a.offcut) || a.rank - b.rank)
    .map(({ one }) => one);
}

const MM_PER_M = 1000;
