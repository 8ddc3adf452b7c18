import { areaOffered } from "./cost-bound.ts";
import { goalFor, KINDS_OF_PARTS, partOf, type KnownSets, type Mixing } from "./mix-goal.ts";
import { fillSheets, type Offer } from "./pass.ts";
import { planFor } from "./plan.ts";
import type { Random } from "../random.ts";
import type { SheetSet } from "./sheet-sets.ts";
import { offcutsFirst, type Nested, type Ready } from "./size.ts";
import { bestOf, judged, order, sheetsInOrder, triedOf, type Tried } from "./tried.ts";

/**
 * The search for the cheapest set of sheets: it holds a cost below that of the best nest and looks
 * for a set of sheets that keeps to it. A few sheets are taken out of the nest, or all; of the sets
 * that would cost less for what lies on them the most promising is filled by a pass, over and over
 * with other sets and orders; where one takes everything there is a better nest. This is the
 * goal-driven scheme for sheets of several sizes (for rectangles: Wei et al. 2013; ruin and recreate
 * under a cost limit: Gardeyn and Wauters 2022; both from memory).
 */

export interface MixStep {
  /** Whether an attempt has come to its end. */
  readonly ended: boolean;
  /** A better nest, judged. */
  readonly found: Tried | null;
}

/** Ends when nothing promising is left to try. */
export function* mixSizes(
  job: Nested & Mixing,
  ready: Ready,
  random: Random,
): Generator<MixStep, void, void> {
  yield* fillGreedily(job, ready, random);
  const failed = new Map<string, number>();
  const known: KnownSets = new Map();
  let idle = 0;
  for (let attempt = 0; attempt < MOST_ATTEMPTS && idle < KINDS_OF_PARTS; attempt++) {
    const best = bestOf(job.tried, job.mix);
    if (best === null || best.leftOver > 0) return;
    const part = partOf(best, attempt, random);
    const goal = goalFor(job, ready, { best, part, failed, known, optimism: OPTIMISM });
    idle = goal === null ? idle + 1 : 0;
    if (goal === null) continue;
    const times = job.attempts.get(goal.key) ?? 0;
    job.attempts.set(goal.key, times + 1);
    failed.set(goal.key, (failed.get(goal.key) ?? 0) + 1);
    const plan = planFor(ready.shapes, times, random, goal.copies);
    const filling = fillSheets(ready.shapes, offersOf(ready, goal.set, times), plan, {
      whole: true,
    });
    let turn = filling.next();
    for (; turn.done !== true; turn = filling.next()) yield PENDING;
    const filled = turn.value;
    if (filled === null) {
      yield FAILED;
      continue;
    }
    const choices = ready.sizes.map(({ bed }) => bed.choice);
    const sheets = sheetsInOrder(choices, [...goal.kept, ...filled.sheets]);
    const now = triedOf(ready.shapes, choices, { sheets, unplaced: [] });
    yield { ended: true, found: order(now, best) < 0 ? judged(job, now) : null };
  }
}

const PENDING: MixStep = { ended: false, found: null };
const FAILED: MixStep = { ended: true, found: null };
/** In a round. */
const MOST_ATTEMPTS = 200;
const OPTIMISM = 0.03;

/** All offcuts and as many bought sheets as needed: at first, and where no nest is complete yet. */
function* fillGreedily(
  job: Nested & Mixing,
  { shapes, sizes }: Ready,
  random: Random,
): Generator<MixStep, void, void> {
  const best = bestOf(job.tried, job.mix);
  const complete = best !== null && best.leftOver === 0;
  const offcuts = sizes.some(({ bed }) => bed.choice.offcut === true);
  if (complete && (!offcuts || job.passes > 1)) return;
  if (best !== null && sizes.length < 2) return;
  const used = complete ? best.nest.choices : sizes.map(({ bed }) => bed.choice);
  const offers = offcutsFirst(sizes, ({ bed }) => bed.choice).filter(
    ({ bed: { choice } }) => choice.offcut === true || used.includes(choice),
  );
  const filling = fillSheets(shapes, offers, planFor(shapes, job.passes, random));
  let turn = filling.next();
  for (; turn.done !== true; turn = filling.next()) yield PENDING;
  const choices = sizes.map(({ bed }) => bed.choice);
  const { sheets, unplaced } = turn.value!;
  const now = triedOf(shapes, choices, { sheets: sheetsInOrder(choices, sheets), unplaced });
  const better = best === null || order(now, best) < 0;
  yield { ended: true, found: better ? judged(job, now) : null };
}

/** Dear sheets first, and in every other attempt last: then the small ones are filled first. */
function offersOf({ sizes }: Ready, { counts }: SheetSet, attempt: number): readonly Offer[] {
  const offers = sizes
    .map((size, index): Offer => ({ ...size, most: counts[index]! }))
    .filter(({ most }) => most > 0)
    .sort((a, b) => areaOffered(b.bed.choice) - areaOffered(a.bed.choice));
  return attempt % 2 === 0 ? offers : offers.toReversed();
}
