import { fillByBoxes } from "./boxes.ts";
import { packSets } from "./mix-packing.ts";
import type { Mixing } from "./mix-goal.ts";
import { rollForLast, type LayOnRoll } from "./mix-roll.ts";
import { mixSizes } from "./mix.ts";
import { keep, type NestJob } from "./nest-job.ts";
import { fillSheets } from "./pass.ts";
import { planFor } from "./plan.ts";
import type { Random } from "../random.ts";
import { copiesOf, FIRST_PASSES, offcutsFirst, passOver, type Nested, type Ready } from "./size.ts";
import { bestOf, judged, triedOf, type Tried } from "./tried.ts";
import type { SheetChoice } from "./types.ts";

/** What a round may spend, by the meter. */
interface Budget {
  /** Where this was spent since the beginning, boxes are laid. */
  readonly most: number;
  readonly mixing: number;
}

/**
 * One pass over each size bought, a look for a nest without waste, then the search among sets of
 * sheets. Yields copies seen to.
 *
 * @param step rounds before this one.
 */
export function* roundOfShapes(
  job: NestJob,
  step: number,
  random: Random,
): Generator<number, void, void> {
  const most = step === 0 ? MOST_OF_FIRST_ROUND / job.stocks : Infinity;
  const budget: Budget = { most, mixing: MOST_OF_MIXING / job.stocks };
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
  yield* jigsawRound(job, each);
  yield job.bought * each;
  yield* mixedRound(job, random, budget, whole, each);
  if (whole) yield* packedRound(job, random, each);
  if (whole) job.passes++;
}

/** From the same round on as nests are closed up. */
function* packedRound(job: NestJob, random: Random, each: number): Generator<number, void, void> {
  if (job.ready === null || job.passes < FIRST_PASSES) return;
  const packing = packSets(job, job.ready, random, MOST_OF_PACKING / job.stocks);
  let turn = packing.next();
  for (; turn.done !== true; turn = packing.next()) yield (job.bought + 1) * each - 1;
  if (turn.value !== null) keep(job, turn.value);
}

/** Depths asked for in a round, of all stocks together: a quarter of a second. */
const MOST_OF_PACKING = 2_000_000;

/** Where all sheets of a size could be filled without waste, and are not yet. */
function* jigsawRound(job: NestJob, each: number): Generator<number, void, void> {
  for (const [size, jigsaw] of job.jigsaws.entries()) {
    const { nest, leftOver } = job.tried[size]!;
    if (jigsaw === null || (leftOver === 0 && nest.sheets.length <= jigsaw.sheets)) continue;
    const work = jigsaw.go(MOST_OF_JIGSAW / job.stocks);
    let turn = work.next();
    for (; turn.done !== true; turn = work.next()) yield job.bought * each;
    if (turn.value === null) continue;
    const filled = { sheets: turn.value, unplaced: [] };
    keep(job, judged(job, triedOf(job.outlines, [job.choices[size]!], filled)));
  }
}

/** Tiles looked at in a round, of all stocks together: a quarter of a second. */
const MOST_OF_JIGSAW = 200_000;

/** By the meter, of all stocks together: about half a second. */
const MOST_OF_FIRST_ROUND = 800_000;
/** Likewise, in each round: what is begun is ended. */
const MOST_OF_MIXING = 300_000;

/** Boxes until passes are made; then a search for as long as the budget allows. */
function* mixedRound(
  job: NestJob,
  random: Random,
  { most: mostInAll, mixing }: Budget,
  whole: boolean,
  each: number,
): Generator<number, void, void> {
  const { ready, meter } = job;
  const limit = Math.min(mixing, mostInAll - meter.spent);
  if (ready === null || !whole || limit <= 0) {
    const offered = offcutsFirst(job.choices, (choice) => choice);
    if (offered.length > 1 && job.mix === null) keep(job, boxed(job, offered));
    return;
  }
  const all = { job, ready };
  const ofBought = job.bought > 1 && job.bought < job.choices.length;
  const searches = ofBought ? [all, { job: boughtOnly(job), ready: boughtOf(job, ready) }] : [all];
  for (const [number, search] of searches.entries()) {
    const start = meter.spent;
    const most = limit / searches.length;
    for (const { ended, found } of mixSizes(search.job, search.ready, random)) {
      if (found !== null) keep(job, found);
      const spent = meter.spent - start;
      if (ended && spent >= most) break;
      const share = (number + Math.min(1, spent / most)) / searches.length;
      yield job.bought * each + Math.min(each - 1, Math.floor(each * share));
    }
  }
  yield* rolledRound(job, ready, random, each);
}

function* rolledRound(
  job: NestJob,
  ready: Ready,
  random: Random,
  each: number,
): Generator<number, void, void> {
  const rolled = rollForLast(job, shapesOnRoll(job, ready, random));
  let turn = rolled.next();
  for (; turn.done !== true; turn = rolled.next()) yield (job.bought + 1) * each - 1;
  if (turn.value !== null) keep(job, turn.value);
}

function shapesOnRoll({ passes }: NestJob, { shapes, sizes }: Ready, random: Random): LayOnRoll {
  return function* lay(roll, copies) {
    const offers = sizes.filter(({ bed }) => bed.choice === roll);
    const filling = fillSheets(shapes, offers, planFor(shapes, passes, random, copies), {
      whole: true,
    });
    let turn = filling.next();
    for (; turn.done !== true; turn = filling.next()) yield;
    return turn.value?.sheets ?? null;
  };
}

/** For the best mix without offcuts, to be held against the one with them. */
function boughtOnly(job: NestJob): Nested & Mixing {
  return {
    ...job,
    attempts: job.boughtAttempts,
    get tried() {
      return job.tried;
    },
    get mix() {
      return job.boughtMix;
    },
  };
}

function boughtOf({ bought }: NestJob, { shapes, sizes }: Ready): Ready {
  return { shapes, sizes: sizes.slice(0, bought) };
}

function boxed(job: NestJob, choices: readonly SheetChoice[]): Tried {
  return judged(job, triedOf(job.outlines, choices, fillByBoxes(job.outlines, choices)));
}
