import { Amount } from "../money.ts";
import type { Progress, Work } from "../work.ts";
import { fillByBoxes } from "./boxes.ts";
import { costBound } from "./cost-bound.ts";
import { Meter } from "./meter.ts";
import { mixSizes, type Mixing } from "./mix.ts";
import { inOrder } from "./order.ts";
import { outlineOf } from "./outline.ts";
import { planFor } from "./plan.ts";
import { randomFrom, type Random } from "./random.ts";
import { copiesOf, offcutsFirst, passOver, prepared, type Nested, type Ready } from "./size.ts";
import type { Aide } from "./separation/lanes.ts";
import { bestOf, isMix, judged, order, outcomeOf, triedOf, type Tried } from "./tried.ts";
import type { NestOutcome, NestPiece, SheetChoice } from "./types.ts";

/** How hard to try, and what the passes after the first draw their lots from. */
export interface NestOptions {
  readonly seed: number;
  /** Rounds over all sizes, 1 or more. */
  readonly steps: number;
  /** How many stocks are nested in these rounds, for they share the time of the first: 1 if not given. */
  readonly stocks?: number;
  /** Works on half of the closing up; null, or not given, where nobody does: the answer is the same. */
  readonly aide?: Aide | null;
}

/**
 * Nests pieces of one material and thickness and names the cheapest sheets: of one size, of several
 * together, or with offcuts. A round makes one pass over every size bought: a bottom-left fill, the
 * first with large pieces first, the later ones varied by lot. After the first round, sizes that
 * certainly cost more than the cheapest found rest: their nests stay for comparison. Each round ends
 * with a search among sets of sheets that would cost less ({@link mixSizes}).
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
  { seed, steps, stocks = 1, aide = null }: NestOptions,
): Work<NestOutcome> {
  if (!(steps >= 1)) throw new RangeError(`nesting needs 1 step or more, not ${steps}`);
  let outcome = outcomeOf([], null, new Amount(0), 0, seed);
  if (choices.length === 0) return outcome;
  const each = copiesPerRound(pieces, choices);
  const report = (done: number): Progress<NestOutcome> => ({
    stage: `nesting ${label}`,
    done,
    of: steps * each,
    best: outcome.steps === 0 ? null : outcome,
  });
  let finish = (yield report(0)) === true;
  const job = jobOf(label, pieces, choices, { seed: Math.imul(seed, SEED_STRIDE), stocks, aide });
  const bound = costBound(pieces, choices);
  for (let step = 0; step < steps; step++) {
    // Each round draws its lots anew, so that it does not matter how many came before.
    const random = randomFrom(Math.imul(seed, SEED_STRIDE) + step);
    const round = roundOf(job, random, {
      most: step === 0 ? MOST_OF_FIRST_ROUND / stocks : Infinity,
      mixing: MOST_OF_MIXING / stocks,
    });
    let turn = round.next();
    for (; turn.done !== true; turn = round.next()) {
      if ((yield report(step * each + turn.value)) === true) finish = true;
      if (finish && step > 0) return outcome;
    }
    outcome = outcomeOf(job.tried, job.mix, bound, step + 1, seed);
    if ((yield report((step + 1) * each)) === true) finish = true;
    if (finish) return outcome;
  }
  return outcome;
}

/** An odd number that sets neighbouring seeds far apart. */
const SEED_STRIDE = 0x9e3779b1;
/** By the {@link Meter}, of all stocks together: about half a second. */
const MOST_OF_FIRST_ROUND = 800_000;
/** Likewise, in each round: what is begun is ended. */
const MOST_OF_MIXING = 300_000;

/** Units of progress in a round: the copies for every size bought, and once more for mixing sizes. */
export function copiesPerRound(
  pieces: readonly NestPiece[],
  choices: readonly Pick<SheetChoice, "offcut">[],
): number {
  const bought = choices.filter(({ offcut }) => offcut !== true).length;
  return (bought + 1) * copiesOf(pieces);
}

/** One material and thickness, with what its rounds share. */
interface NestJob extends Nested, Mixing {
  /** Those bought come first. */
  readonly choices: readonly SheetChoice[];
  readonly bought: number;
  readonly preparing: Generator<void, Ready, void>;
  /** Null until it has been prepared. */
  ready: Ready | null;
  passes: number;
  tried: readonly Tried[];
  mix: Tried | null;
}

function jobOf(
  label: string,
  pieces: readonly NestPiece[],
  choices: readonly SheetChoice[],
  { seed, stocks, aide }: Required<Omit<NestOptions, "steps">>,
): NestJob {
  const meter = new Meter();
  const outlines = inOrder(pieces.map(outlineOf));
  const bought = choices.filter(({ offcut }) => offcut !== true);
  const sorted = [...bought, ...choices.filter(({ offcut }) => offcut === true)];
  return {
    label,
    outlines,
    choices: sorted,
    bought: bought.length,
    meter,
    aide,
    closingShare: 1 / (stocks * Math.max(1, bought.length)),
    preparing: prepared(outlines, sorted, meter, seed),
    ready: null,
    passes: 0,
    tried: [],
    mix: null,
    attempts: new Map(),
  };
}

/** What a round may spend, by the meter. */
interface Budget {
  /** Where this was spent since the beginning, boxes are laid. */
  readonly most: number;
  readonly mixing: number;
}

/** One pass over each size bought, then the search among sets of sheets. Yields copies seen to. */
function* roundOf(job: NestJob, random: Random, budget: Budget): Generator<number, void, void> {
  while (job.ready === null && job.meter.spent < budget.most) {
    const turn = job.preparing.next();
    if (turn.done === true) job.ready = turn.value;
    yield 0;
  }
  const each = copiesOf(job.outlines.map(({ piece }) => piece));
  const best = bestOf(job.tried, job.mix);
  const lead = best !== null && best.leftOver === 0 ? best.nest : null;
  const plan = job.ready === null ? null : planFor(job.ready.shapes, job.passes, random);
  const round: Tried[] = [];
  let whole = true;
  for (let size = 0; size < job.bought; size++) {
    if (size > 0) yield size * each;
    let now: Tried | null = null;
    if (job.ready !== null && plan !== null) {
      const { shapes, sizes } = job.ready;
      const pass = passOver(job, shapes, sizes[size]!, plan, job.tried[size] ?? null, lead);
      let turn = pass.next();
      for (; turn.done !== true && job.meter.spent < budget.most; turn = pass.next())
        yield size * each + turn.value;
      if (turn.done === true) now = turn.value;
    }
    whole &&= now !== null;
    round.push(now ?? boxed(job, [job.choices[size]!]));
  }
  job.tried = round;
  yield job.bought * each;
  yield* mixedRound(job, random, budget, whole, each);
  if (whole) job.passes++;
}

/** Boxes until passes are made; then a search for as long as the budget allows. */
function* mixedRound(
  job: NestJob,
  random: Random,
  { most, mixing }: Budget,
  whole: boolean,
  each: number,
): Generator<number, void, void> {
  const { ready, meter } = job;
  const limit = Math.min(mixing, most - meter.spent);
  if (ready === null || !whole || limit <= 0) {
    const offered = offcutsFirst(job.choices, (choice) => choice);
    if (offered.length > 1 && job.mix === null) keep(job, boxed(job, offered));
    return;
  }
  const start = meter.spent;
  for (const { ended, found } of mixSizes(job, ready, random)) {
    if (found !== null) keep(job, found);
    const spent = meter.spent - start;
    if (ended && spent >= limit) return;
    yield job.bought * each + Math.min(each - 1, Math.floor((each * spent) / limit));
  }
}

/** The nest where it is better than the one before of the same kind. */
function keep(job: NestJob, found: Tried): void {
  const { sheets, choices } = found.nest;
  if (sheets.length === 0) return;
  if (isMix(found)) {
    if (job.mix === null || order(found, job.mix) < 0) job.mix = found;
    return;
  }
  const size = job.choices.indexOf(choices[0]!);
  if (order(found, job.tried[size]!) >= 0) return;
  job.tried = job.tried.with(size, found);
  if (job.ready !== null) job.ready.sizes[size]!.lanes = null;
}

function boxed(job: NestJob, choices: readonly SheetChoice[]): Tried {
  return judged(job, triedOf(job.outlines, choices, fillByBoxes(job.outlines, choices)));
}
