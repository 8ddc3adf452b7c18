import { Amount } from "../money.ts";
import type { Progress, Work } from "../work.ts";
import { costBound } from "./cost-bound.ts";
import { jobOf } from "./nest-job.ts";
import { randomFrom } from "../random.ts";
import { roundOfRectangles } from "./rectangles/round.ts";
import { roundOfShapes } from "./round.ts";
import type { Aide } from "./separation/lanes.ts";
import { copiesOf } from "./size.ts";
import { outcomeOf } from "./tried.ts";
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
 * with a search among sets of sheets that would cost less.
 *
 * The first round never takes long: where so much work does not bring a pass to its end, boxes around
 * the pieces are laid instead, and the passes begin with the second round.
 *
 * Pieces that are all rectangles have a search of their own, with rounds alike.
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
  let outcome = outcomeOf([], null, null, new Amount(0), 0, seed);
  if (choices.length === 0) return outcome;
  const each = copiesPerRound(pieces, choices);
  const report = (done: number): Progress<NestOutcome> => ({
    stage: `nesting ${label}`,
    done,
    of: steps * each,
    best: outcome.steps === 0 ? null : outcome,
  });
  let finish = (yield report(0)) === true;
  const bound = costBound(pieces, choices);
  const start = Math.imul(seed, SEED_STRIDE);
  const job = jobOf(label, pieces, choices, { bound, seed: start, stocks, aide });
  for (let step = 0; step < steps; step++) {
    // Each round of passes draws its lots anew, so that it does not matter how many came before.
    const round =
      job.rectangles === null
        ? roundOfShapes(job, step, randomFrom(start + step))
        : roundOfRectangles(job, job.rectangles, step);
    let turn = round.next();
    for (; turn.done !== true; turn = round.next()) {
      if ((yield report(step * each + turn.value)) === true) finish = true;
      if (finish && step > 0) return outcome;
    }
    outcome = outcomeOf(job.tried, job.mix, job.boughtMix, bound, step + 1, seed);
    if ((yield report((step + 1) * each)) === true) finish = true;
    if (finish) return outcome;
  }
  return outcome;
}

/** An odd number that sets neighbouring seeds far apart. */
const SEED_STRIDE = 0x9e3779b1;

/** Units of progress in a round: the copies for every size bought, and once more for mixing sizes. */
export function copiesPerRound(
  pieces: readonly NestPiece[],
  choices: readonly Pick<SheetChoice, "offcut">[],
): number {
  const bought = choices.filter(({ offcut }) => offcut !== true).length;
  return (bought + 1) * copiesOf(pieces);
}
