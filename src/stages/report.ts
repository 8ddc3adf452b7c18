import type {
  EstimatedPart,
  FeedUsed,
  NestReport,
  TimeReport,
  TimedStock,
} from "../estimate-data.ts";
import { handlingOf } from "../job/handling.ts";
import type { MachineRow } from "../job/types.ts";
import type { Feed, SheetTime } from "../machine/types.ts";
import type { Nest } from "../nesting/types.ts";
import { spareCopies } from "../pricing/spares.ts";
import { checked, isError } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import { unplacedProblems } from "./fits.ts";
import { nestedStock } from "./nest.ts";
import { chosenNest } from "./sheets-tried.ts";
import type { NestedGroup } from "./sheets-tried.ts";
import type { ReadJob } from "./read.ts";
import { shortenings } from "./shortening.ts";
import { runOutProblems } from "./run-outs.ts";
import { feedsOf, timeNest } from "./time.ts";

/** The answers of `nest` and `time`, as plain data. */

export function nestReport(
  read: ReadJob,
  nested: readonly NestedGroup[],
  seed: number,
): NestReport {
  const stocks = nested.flatMap((group) => nestedStock(group) ?? []);
  const { currency } = read.tables;
  const parts = estimatedParts(read);
  return { version: 1, currency, stocks, parts, steps: stepsOf(nested), seed };
}

export function timeReport(
  read: ReadJob,
  machine: MachineRow,
  nested: readonly NestedGroup[],
  seed: number,
): Checked<TimeReport> {
  const timed = timeGroups(nested, read, machine);
  if (!timed.value) return { value: null, problems: timed.problems };
  const { id, description } = machine;
  const { value: all } = timed;
  const stocks = all.map(({ stock }) => stock);
  const report = {
    version: 1,
    machine: { id, description },
    stocks,
    handling: handlingOf(machine).map(({ label, per, minutes }) => ({ label, per, minutes })),
    currency: read.tables.currency,
    shortening: shortenings(all, read, machine),
    steps: stepsOf(nested),
    seed,
  } as const;
  return { value: report, problems: timed.problems };
}

/** A nested group whose every copy has a place, with its times. */
export interface TimedGroup {
  readonly nested: NestedGroup;
  readonly nest: Nest;
  readonly times: readonly SheetTime[];
  readonly feeds: readonly Feed[];
  readonly stock: TimedStock;
}

/** Problems when some copy has no place: a time or price for less than was asked would mislead. */
export function timeGroups(
  nested: readonly NestedGroup[],
  { job, tables }: ReadJob,
  machine: MachineRow,
): Checked<readonly TimedGroup[]> {
  const problems: Problem[] = [...unplacedProblems(nested)];
  const timed = nested.flatMap((one) => {
    const nest = chosenNest(one);
    const stock = nestedStock(one);
    if (!nest || !stock) return [];
    const { value: feeds, problems: missing } = feedsOf(one.group, tables, machine);
    // Warnings were given before the nest.
    problems.push(...missing.filter(isError));
    if (feeds === null) return [];
    const times = timeNest(one, nest, feeds, machine, job.commonCuts);
    problems.push(...runOutProblems(nest, times, feeds, machine));
    return [
      { nested: one, nest, times, feeds, stock: { ...stock, times, feeds: feeds.map(feedUsed) } },
    ];
  });
  return checked(timed, problems);
}

function feedUsed(feed: Feed): FeedUsed {
  const { operation, feedMmS, passes, pierceS, power, measured, rows, rule } = feed;
  return { operation, feedMmS, passes, pierceS, power, measured, rows, rule };
}

export function estimatedParts({ job, parts }: ReadJob): readonly EstimatedPart[] {
  return parts.map(({ part, geometry, cut, spare: rule }) => {
    const { name, material, thicknessMm, quantity, finish, note } = part;
    const ordered = quantity * job.pieces;
    const spare = spareCopies(ordered, rule);
    return {
      name,
      material,
      thicknessMm,
      quantity,
      copies: ordered + spare,
      spare,
      finish,
      note,
      geometry,
      cut,
    };
  });
}

function stepsOf(nested: readonly NestedGroup[]): number {
  return nested[0]?.outcome.steps ?? 0;
}
