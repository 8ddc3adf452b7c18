import { stockName } from "../units.ts";
import type { NestedStock } from "../estimate-data.ts";
import { copiesPerRound, nestPieces, type NestOptions } from "../nesting/nest.ts";
import type { Aide } from "../nesting/separation/lanes.ts";
import type { NestOutcome } from "../nesting/types.ts";
import type { Progress, Work } from "../work.ts";
import { leftoverFor } from "./leftovers.ts";
import { choicesOf, piecesOf } from "./stock-groups.ts";
import type { StockGroup } from "./stock-groups.ts";
import { chosenNest, mixTried, sheetsUsed, sizeTried } from "./sheets-tried.ts";
import type { NestedGroup } from "./sheets-tried.ts";

export interface Effort {
  readonly seed: number;
  /** Rounds: each tries every size of every group once. */
  readonly steps: number;
}

/** A group to be nested. */
export interface Wanted {
  readonly group: StockGroup;
  /** Commissioned. */
  readonly pieces: number;
  /** How many groups its job has, for they share the time of the first round. */
  readonly stocks: number;
}

interface RunningGroup {
  readonly group: StockGroup;
  readonly work: Work<NestOutcome>;
  /** Of its progress. */
  readonly of: number;
  latest: Progress<NestOutcome> | null;
  outcome: NestOutcome | null;
}

/** Nests every group of a job. */
export function nestGroups(
  groups: readonly StockGroup[],
  pieces: number,
  effort: Effort,
  aide: Aide | null = null,
): Work<readonly NestedGroup[]> {
  const stocks = groups.length;
  return nestWanted(
    groups.map((group) => ({ group, pieces, stocks })),
    effort,
    aide,
  );
}

/**
 * Nests every group, of one job or of several. They advance in rounds together, so that work which is
 * finished early made the same number of rounds for each and can be repeated with that number of steps:
 * what a round begun but not ended has found is left out, and the first round is always ended.
 */
export function* nestWanted(
  wanted: readonly Wanted[],
  effort: Effort,
  aide: Aide | null,
): Work<readonly NestedGroup[]> {
  const running = wanted.map((one) => startGroup(one, { ...effort, aide }));
  const of = running.reduce((sum, one) => sum + one.of, 0);
  let best: readonly NestedGroup[] | null = null;
  let finish = false;
  for (let round = 1; round <= effort.steps; round += 1) {
    let whole = false;
    for (const one of running) {
      for (const _ of advance(one, round, effort.steps)) {
        whole = isRoundDone(running, round, effort.steps);
        if (whole) best = outcomesOf(running);
        const stage = `nesting ${stockName(one.group)}`;
        const done = running.reduce((sum, { latest }) => sum + (latest?.done ?? 0), 0);
        if ((yield { stage, done, of, best }) === true) finish = true;
        if (finish && best !== null) return best;
      }
    }
    // A group without sheets ends its rounds without a word.
    if (!whole) best = outcomesOf(running);
  }
  return best ?? [];
}

/** The plain record of a group's nest; null when there was no sheet to nest on. */
export function nestedStock(nested: NestedGroup): NestedStock | null {
  const { group, outcome } = nested;
  const best = chosenNest(nested);
  if (!best) return null;
  return {
    material: group.material,
    thicknessMm: group.thicknessMm,
    sheet: best.choices.map(({ id }) => id).join(" + "),
    used: sheetsUsed(best),
    sheets: best.sheets,
    unplaced: best.unplaced,
    sheetCost: best.sheetCost.toString(),
    costBound: outcome.costBound.toString(),
    utilisation: best.utilisation,
    bySize: outcome.bySize.map((nest) => sizeTried(nested, nest)),
    mix: mixTried(nested, outcome.mix),
    boughtMix: mixTried(nested, outcome.boughtMix),
    leftover: leftoverFor(piecesOf(group, 1), best),
    steps: outcome.steps,
  };
}

function startGroup({ group, pieces, stocks }: Wanted, options: NestOptions): RunningGroup {
  const nestable = piecesOf(group, pieces);
  const choices = choicesOf(group);
  const work = nestPieces(stockName(group), nestable, choices, { ...options, stocks });
  const of = options.steps * copiesPerRound(nestable, choices);
  return { group, work, of, latest: null, outcome: null };
}

/** Lets a group work until it has finished this round, with a halt at each progress it makes. */
function* advance(one: RunningGroup, round: number, rounds: number): Generator<void, void, void> {
  while (one.outcome === null && !isRoundDone([one], round, rounds)) {
    const turn = one.work.next(false);
    if (turn.done === true) one.outcome = turn.value;
    else {
      one.latest = turn.value;
      yield;
    }
  }
}

function isRoundDone(running: readonly RunningGroup[], round: number, rounds: number): boolean {
  return running.every(
    ({ latest, outcome }) =>
      outcome !== null || (latest !== null && latest.done * rounds >= latest.of * round),
  );
}

function outcomesOf(running: readonly RunningGroup[]): readonly NestedGroup[] | null {
  const nested = running.flatMap(({ group, outcome, latest }) => {
    const known = outcome ?? latest?.best ?? null;
    return known ? [{ group, outcome: known }] : [];
  });
  return nested.length === running.length ? nested : null;
}
