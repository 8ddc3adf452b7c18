import { Amount } from "../money.ts";
import type { Progress, Work } from "../work.ts";
import { bedOf, stepFor, type Bed } from "./bed.ts";
import { fillByBoxes } from "./boxes.ts";
import { costBound } from "./cost-bound.ts";
import { Meter } from "./meter.ts";
import { NoFitCache } from "./no-fit.ts";
import { inOrder } from "./order.ts";
import { outlineOf, type Outline } from "./outline.ts";
import { fillSheets } from "./pass.ts";
import { planFor, type Plan } from "./plan.ts";
import { randomFrom, type Random } from "./random.ts";
import { closeUp, type Closer } from "./separation/closing.ts";
import { shapesOf, type Shape } from "./shapes.ts";
import { judged, order, outcomeOf, triedOf, type Tried } from "./tried.ts";
import type { Nest, NestOutcome, NestPiece, SheetChoice } from "./types.ts";

/** How hard to try, and what the passes after the first draw their lots from. */
export interface NestOptions {
  readonly seed: number;
  /** Rounds over all sizes, 1 or more. */
  readonly steps: number;
  /** How many stocks are nested in these rounds, for they share the time of the first: 1 if not given. */
  readonly stocks?: number;
}

/**
 * Nests pieces of one material and thickness on each size of sheet in turn and names the cheapest.
 * A round makes one pass over every size: a bottom-left fill, the first with large pieces first, the
 * later ones varied by lot. After the first round, sizes that certainly cost more than the cheapest
 * found rest: their nests stay for comparison.
 *
 * The first round never takes long: where so much work does not bring a pass to its end, boxes around
 * the pieces are laid instead, and the passes begin with the second round.
 *
 * Progress is counted in copies seen to; it comes after every few of them, and `best` in it is the
 * outcome of the last whole round. Told to finish early, at any time, it does so with that, but
 * never before the first round is whole, so that `steps` of the outcome makes the same outcome again.
 *
 * @throws JudgementError when a nest breaks a rule: a fault of the search.
 * @throws RangeError for `steps` below 1.
 */
export function* nestPieces(
  label: string,
  pieces: readonly NestPiece[],
  choices: readonly SheetChoice[],
  { seed, steps, stocks = 1 }: NestOptions,
): Work<NestOutcome> {
  if (!(steps >= 1)) throw new RangeError(`nesting needs 1 step or more, not ${steps}`);
  let outcome = outcomeOf([], null, new Amount(0), 0, seed);
  if (choices.length === 0) return outcome;
  const each = choices.length * copiesPerPass(pieces);
  const report = (done: number): Progress<NestOutcome> => ({
    stage: `nesting ${label}`,
    done,
    of: steps * each,
    best: outcome.steps === 0 ? null : outcome,
  });
  let finish = (yield report(0)) === true;
  const job = jobOf(label, pieces, choices, seed);
  const bound = costBound(pieces, choices);
  for (let step = 0; step < steps; step++) {
    // Each round draws its lots anew, so that it does not matter how many came before.
    const random = randomFrom(Math.imul(seed, SEED_STRIDE) + step);
    const most = step === 0 ? MOST_OF_FIRST_ROUND / stocks : Infinity;
    const round = roundOf(job, random, most, outcome.best);
    let turn = round.next();
    for (; turn.done !== true; turn = round.next()) {
      if ((yield report(step * each + turn.value)) === true) finish = true;
      if (finish && step > 0) return outcome;
    }
    job.tried = turn.value;
    outcome = outcomeOf(job.tried, null, bound, step + 1, seed);
    if ((yield report((step + 1) * each)) === true) finish = true;
    if (finish) return outcome;
  }
  return outcome;
}

/** An odd number that sets neighbouring seeds far apart. */
const SEED_STRIDE = 0x9e3779b1;
/** By the {@link Meter}, of all stocks together: about half a second. */
const MOST_OF_FIRST_ROUND = 800_000;

/** Units of progress that a pass over one size counts; 1 when there is nothing to nest. */
export function copiesPerPass(pieces: readonly Pick<NestPiece, "copies">[]): number {
  return Math.max(
    1,
    pieces.reduce((sum, { copies }) => sum + copies, 0),
  );
}

/** One material and thickness, with what its rounds share. */
interface NestJob {
  readonly label: string;
  readonly outlines: readonly Outline[];
  readonly choices: readonly SheetChoice[];
  readonly meter: Meter;
  readonly preparing: Generator<void, Ready, void>;
  /** What passes need, once it has been prepared. */
  ready: Ready | null;
  /** Rounds of passes that were not broken off. */
  passes: number;
  /** The best nest of each size so far. */
  tried: readonly Tried[];
}

interface Ready {
  readonly shapes: readonly Shape[];
  readonly sizes: readonly Size[];
}

/** A size of sheet with what its passes share. */
interface Size {
  readonly bed: Bed;
  readonly cache: NoFitCache;
  /** No nest on sheets of this size alone costs less. */
  readonly bound: Amount;
  /** Closes up the best nest of the size; null before, and after there was a better one from a pass. */
  closing: Generator<Closer, void, void> | null;
  /** What it draws its lots from. */
  readonly random: Random;
}

function jobOf(
  label: string,
  pieces: readonly NestPiece[],
  choices: readonly SheetChoice[],
  seed: number,
): NestJob {
  const meter = new Meter();
  const outlines = inOrder(pieces.map(outlineOf));
  const preparing = prepared(outlines, choices, meter, seed);
  return { label, outlines, choices, meter, preparing, ready: null, passes: 0, tried: [] };
}

/** One shape and one size after the other, for each takes a while. */
function* prepared(
  outlines: readonly Outline[],
  choices: readonly SheetChoice[],
  meter: Meter,
  seed: number,
): Generator<void, Ready, void> {
  const shapes = yield* shapesOf(outlines, meter);
  const stepMm = stepFor(shapes, choices);
  const caches = new Map(choices.map(({ gapMm }) => [gapMm, new NoFitCache(meter)]));
  const pieces = outlines.map(({ piece }) => piece);
  const sizes: Size[] = [];
  for (const choice of choices) {
    const cache = caches.get(choice.gapMm)!;
    const bed = yield* bedOf(choice, shapes, stepMm, cache);
    const random = randomFrom(Math.imul(seed, SEED_STRIDE) - 1 - sizes.length);
    sizes.push({ bed, cache, bound: costBound(pieces, [choice]), closing: null, random });
    yield;
  }
  return { shapes, sizes };
}

/**
 * One pass over each size; boxes where that takes more than `most` by the meter. Yields copies seen
 * to in this round.
 */
function* roundOf(
  job: NestJob,
  random: Random,
  most: number,
  best: Nest | null,
): Generator<number, readonly Tried[], void> {
  while (job.ready === null && job.meter.spent < most) {
    const turn = job.preparing.next();
    if (turn.done === true) job.ready = turn.value;
    yield 0;
  }
  const each = copiesPerPass(job.outlines.map(({ piece }) => piece));
  const plan = job.ready === null ? null : planFor(job.ready.shapes, job.passes, random);
  const round: Tried[] = [];
  let whole = true;
  for (const size of job.choices.keys()) {
    if (size > 0) yield size * each;
    let now: Tried | null = null;
    if (job.ready !== null && plan !== null) {
      const pass = passOver(job, job.ready, size, plan, job.tried[size] ?? null, best);
      let turn = pass.next();
      for (; turn.done !== true && job.meter.spent < most; turn = pass.next())
        yield size * each + turn.value;
      if (turn.done === true) now = turn.value;
    }
    whole &&= now !== null;
    round.push(now ?? boxed(job, size));
  }
  if (whole) job.passes++;
  return round;
}

function boxed(job: NestJob, size: number): Tried {
  const choice = job.choices[size]!;
  return judged(job, triedOf(job.outlines, [choice], fillByBoxes(job.outlines, choice)));
}

/** A round's work on one size, judged, or what was before where that is no worse. Yields copies seen to. */
function* passOver(
  job: NestJob,
  { shapes, sizes }: Ready,
  index: number,
  plan: Plan,
  before: Tried | null,
  best: Nest | null,
): Generator<number, Tried, void> {
  const size = sizes[index]!;
  const { bed, cache, bound } = size;
  const most = before === null ? Infinity : worthwhileSheets(bed.choice, before.nest, best, bound);
  if (before !== null && most === 0) return before;
  if (before !== null && isToBeClosed(job, before, most)) {
    const closed = yield* closeOn(job, shapes, size, before);
    if (closed !== null) return closed;
  }
  const filled = yield* fillSheets(shapes, bed, plan, cache, most);
  const now = filled === null ? null : triedOf(shapes, [bed.choice], filled);
  if (before !== null && (now === null || order(before, now) <= 0)) return before;
  size.closing = null;
  return judged(job, now!);
}

/** After the first passes, where one sheet less than before could be of use. */
function isToBeClosed({ passes }: NestJob, { leftOver, nest }: Tried, most: number): boolean {
  if (leftOver > 0 || passes < FIRST_PASSES || passes % PASS_EVERY === 0) return false;
  return nest.sheets.length <= most + 1;
}

/** Passes before the closing up begins; then every so many rounds there is one again. */
const FIRST_PASSES = 2;
const PASS_EVERY = 4;

/** Closes up for a while; null when there is nothing to be gained by that. Yields copies seen to. */
function* closeOn(
  job: NestJob,
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
  const copies = copiesPerPass(shapes.map(({ piece }) => piece));
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
