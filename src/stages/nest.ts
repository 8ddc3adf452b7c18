import { stockName } from "../units.ts";
import type { MixTried, NestedStock, SheetsUsed, SizeTried } from "../estimate-data.ts";
import { boughtOf, costOfAll } from "../nesting/tried.ts";
import { copiesPerRound, nestPieces, type NestOptions } from "../nesting/nest.ts";
import type { Aide } from "../nesting/separation/lanes.ts";
import type { Nest, NestOutcome } from "../nesting/types.ts";
import type { Progress, Work } from "../work.ts";
import { leftoverFor } from "./leftovers.ts";
import { choicesOf, piecesOf } from "./stock-groups.ts";
import type { StockGroup } from "./stock-groups.ts";

/** A group with everything tried on it. */
export interface NestedGroup {
  readonly group: StockGroup;
  readonly outcome: NestOutcome;
}

export interface Effort {
  readonly seed: number;
  /** Rounds: each tries every size of every group once. */
  readonly steps: number;
}

interface RunningGroup {
  readonly group: StockGroup;
  readonly work: Work<NestOutcome>;
  /** Of its progress. */
  readonly of: number;
  latest: Progress<NestOutcome> | null;
  outcome: NestOutcome | null;
}

/**
 * Nests every group. They advance in rounds together, so that work which is finished early made the
 * same number of rounds for each and can be repeated with that number of steps: what a round begun
 * but not ended has found is left out, and the first round is always ended.
 */
export function* nestGroups(
  groups: readonly StockGroup[],
  pieces: number,
  effort: Effort,
  aide: Aide | null = null,
): Work<readonly NestedGroup[]> {
  const { seed, steps } = effort;
  const stocks = groups.length;
  const running = groups.map((group) => startGroup(group, pieces, { seed, steps, stocks, aide }));
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

/** The nest to show: the cheapest complete one, else the one that leaves least unplaced. */
export function chosenNest({ outcome }: NestedGroup): Nest | null {
  const { best, bySize, mix } = outcome;
  if (best !== null) return best;
  return [...bySize, ...(mix === null ? [] : [mix])].reduce<Nest | null>(
    (most, nest) => (most === null || copiesLeft(nest) < copiesLeft(most) ? nest : most),
    null,
  );
}

function copiesLeft({ unplaced }: Nest): number {
  return unplaced.reduce((sum, { copies }) => sum + copies, 0);
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
    bySize: outcome.bySize.map((nest) => sizeTried(nest, nest === best)),
    mix: outcome.mix === null ? null : mixTried(outcome.mix, outcome.mix === best),
    leftover: leftoverFor(piecesOf(group, 1), best),
    steps: outcome.steps,
  };
}

function startGroup(group: StockGroup, pieces: number, options: NestOptions): RunningGroup {
  const nestable = piecesOf(group, pieces);
  const choices = choicesOf(group);
  const work = nestPieces(stockName(group), nestable, choices, options);
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

function sizeTried(nest: Nest, chosen: boolean): SizeTried {
  const { id, widthMm, heightMm, panels = 1 } = nest.choices[0]!;
  return { sheet: id, widthMm, heightMm, panels, ...tried(nest, chosen) };
}

function mixTried(nest: Nest, chosen: boolean): MixTried {
  return { used: sheetsUsed(nest), ...tried(nest, chosen) };
}

function tried(nest: Nest, chosen: boolean) {
  const { sheetCost, utilisation, unplaced } = nest;
  return {
    sheets: sheetsUsed(nest).reduce((sum, { bought }) => sum + bought, 0),
    cost: sheetCost.toString(),
    utilisation,
    complete: unplaced.length === 0,
    chosen,
  };
}

/** What a nest takes of each size. */
export function sheetsUsed({ choices, sheets }: Nest): readonly SheetsUsed[] {
  return choices.map((choice) => {
    const { id, form, widthMm, heightMm, marginMm, gapMm, offcut = false, panels = 1 } = choice;
    const its = sheets.filter(({ sheet }) => sheet === id);
    return {
      sheet: id,
      form,
      widthMm,
      heightMm,
      marginMm,
      gapMm,
      offcut,
      count: its.length,
      panels,
      bought: form === "sheet" ? boughtOf(choice, its.length) : its.length,
      lengthMm: form === "sheet" ? null : its.reduce((sum, sheet) => sum + sheet.heightMm, 0),
      cost: costOfAll(choice, its).toString(),
    };
  });
}
