import { Amount } from "../money.ts";
import { bedOf, stepFor, turnsThatFit } from "./bed.ts";
import type { FilledSheet } from "./filled.ts";
import { mostSheets } from "./lengths.ts";
import type { Meter } from "./meter.ts";
import { NoFitCache } from "./no-fit.ts";
import type { Outline } from "./outline.ts";
import { fillSheets, type Offer } from "./pass.ts";
import type { Plan } from "./plan.ts";
import type { Contents } from "./separation/ground.ts";
import { Lanes, type Aide } from "./separation/lanes.ts";
import { shapesOf, type Shape } from "./shapes.ts";
import { judged, order, triedOf, type Tried } from "./tried.ts";
import type { Nest, NestPiece, SheetChoice } from "./types.ts";

/** A size of sheet with what its passes share. */
export interface Size extends Offer {
  /** No nest on sheets of this size alone costs less. */
  readonly bound: Amount;
  /** Close up the best nest of the size; null before, and after there was a better one from elsewhere. */
  lanes: Lanes | null;
  /** Of its lanes. */
  readonly seed: number;
}

/** What passes need. */
export interface Ready {
  readonly shapes: readonly Shape[];
  /** One for each choice. */
  readonly sizes: readonly Size[];
}

/**
 * One shape and one size after the other, for each takes a while.
 *
 * @param bounds of what each choice costs alone.
 */
export function* prepared(
  outlines: readonly Outline[],
  choices: readonly SheetChoice[],
  bounds: readonly Amount[],
  meter: Meter,
  seed: number,
): Generator<void, Ready, void> {
  const shapes = yield* shapesOf(outlines, meter);
  const bought = choices.filter(({ offcut }) => offcut !== true);
  const stepMm = stepFor(shapes, bought.length > 0 ? bought : choices);
  const caches = new Map(choices.map(({ gapMm }) => [gapMm, new NoFitCache(meter)]));
  const sizes: Size[] = [];
  for (const [number, choice] of choices.entries()) {
    const cache = caches.get(choice.gapMm)!;
    const before = sizes.reduce((sum, size) => sum + size.bed.standing.length, 0);
    const bed = yield* bedOf(choice, before, shapes, stepMm, cache);
    sizes.push({
      bed,
      cache,
      most: mostSheets(choice),
      bound: bounds[number]!,
      lanes: null,
      seed: seed - SIZE_STRIDE * (1 + sizes.length),
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
  /** Of a round's closing up, for each size. */
  readonly closingShare: number;
  readonly aide: Aide | null;
}

/** Sets the lanes of one size apart from those of the next, however often they begin anew. */
const SIZE_STRIDE = 1_000_003;

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
  size.lanes = null;
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
  size.lanes ??= lanesOf(job, shapes, size, before);
  const copies = copiesOf(shapes.map(({ piece }) => piece));
  const work = size.lanes.round(MOST_OF_CLOSING * job.closingShare);
  let turn = work.next();
  // The last copy has been seen to when the round ends.
  for (; turn.done !== true; turn = work.next())
    yield Math.min(copies - 1, Math.floor(copies * turn.value));
  const { found, ended } = turn.value;
  if (found === null) return ended ? null : before;
  const { choice } = size.bed;
  const sheets = found.map((contents) => ({ ...contents, choice }));
  const now = triedOf(shapes, [choice], { sheets, unplaced: [] });
  return order(now, before) < 0 ? judged(job, now) : before;
}

/** Depths asked for by each lane in a round, of all sizes and stocks together: half a second. */
const MOST_OF_CLOSING = 2_000_000;

function lanesOf(
  { label, aide }: Nested,
  shapes: readonly Shape[],
  { bed: { choice }, bound, seed }: Size,
  { nest, filled }: Tried,
): Lanes {
  const { id, widthMm, heightMm, marginMm, gapMm } = choice;
  const loose = {
    shapes,
    turns: shapes.map((shape) => turnsThatFit(shape, choice)),
    choice: { widthMm, heightMm, marginMm, gapMm },
    sheets: filled.sheets.map(plainContents),
    leastSheets: choice.form === "roll" ? nest.sheets.length : leastSheets(bound, choice),
  };
  return new Lanes(`${label} ${id}`, loose, seed, aide);
}

/** Without what passes know beside it. */
function plainContents({ placed, usedMm }: FilledSheet): Contents {
  const plain = placed.map(({ shape, variant: { turnDeg, mirrored, box }, x, y }) => ({
    shape,
    variant: { turnDeg, mirrored, box },
    x,
    y,
  }));
  return { placed: plain, usedMm };
}

/** One panel at least of the last sheet that must be bought. */
function leastSheets(bound: Amount, { price, panels = 1 }: SheetChoice): number {
  if (price.isZero()) return 1;
  const bought = bound.div(price).ceil().toNumber();
  return Math.max(1, (bought - 1) * panels + 1);
}

/** On more sheets than this a size can not win, neither the choice of sizes nor over its last nest. */
function worthwhileSheets(
  { form, price, panels = 1 }: SheetChoice,
  before: Nest,
  best: Nest | null,
  bound: Amount,
): number {
  if (best === null) return Infinity;
  const leads = before === best || price.isZero();
  if (leads) return form === "sheet" ? before.sheets.length : Infinity;
  if (bound.gte(best.sheetCost)) return 0;
  if (form === "roll") return Infinity;
  return (best.sheetCost.div(price).ceil().toNumber() - 1) * panels;
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
    const { form, widthMm, heightMm, price, offcut = false, panels = 1 } = choice;
    const areaMm2 = panels * widthMm * (form === "roll" ? MM_PER_M : (heightMm ?? 0));
    return { one, offcut, rank: offcut ? -areaMm2 : price.div(areaMm2).toNumber() };
  });
  return keyed
    .sort((a, b) => Number(b.offcut) - Number(a.offcut) || a.rank - b.rank)
    .map(({ one }) => one);
}

const MM_PER_M = 1000;
