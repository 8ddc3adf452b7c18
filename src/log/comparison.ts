import type { Operation } from "../job/types.ts";
import type { Entry } from "./entries.ts";
import { factorsOf } from "./factors.ts";
import type { Compared, Factor, Factors } from "./factors.ts";
import { workingMinutes } from "./working-minutes.ts";

/** What all jobs took against what they were estimated to: a factor for each machine and operation. */

export interface Correction extends Factor {
  readonly what: Entry["what"];
  /** Id of the machine, paint, task or sheet. */
  readonly name: string;
  /** What the factor is for: several where the runs do not tell them apart; none but for machines. */
  readonly operations: readonly Operation[];
  /** Runs that it rests on, and the jobs that they are of. */
  readonly runs: number;
  readonly jobs: number;
  /** What was noted and does not count, being far off from the others. */
  readonly leftOut: readonly Entry[];
}

/** Machines first, then what else was noted, each in the order in which it first comes. */
export function corrections(entries: readonly Entry[]): readonly Correction[] {
  const ofMachines = grouped(runsOf(entries), ({ machine }) => machine).flatMap(machineFactors);
  const others = entries.filter(({ what, took }) => what !== "machine" && took !== null);
  const ofOthers = grouped(others, ({ what, item }) => `${what}\n${item}`).flatMap(otherFactor);
  return [...ofMachines, ...ofOthers];
}

/** Earlier hand work counts as if it had been estimated with the table's minutes of the newest. */
function otherFactor(same: readonly Entry[]): readonly Correction[] {
  const newest = same.at(-1);
  const noted = same.filter(({ estimated, took }) => took !== null && estimated > 0);
  const found = factorsOf(
    noted.map((row) => {
      const asOf = newest?.eachMin && row.eachMin ? newest.eachMin / row.eachMin : 1;
      return { estimated: [row.estimated * asOf], took: row.took ?? 0, job: jobOf(row) };
    }),
  );
  const [factor] = found?.factors ?? [];
  if (newest === undefined || found === null || factor === undefined) return [];
  const { what, item } = newest;
  return [{ ...factor, what, name: item, operations: [], ...restingOn(noted, found.counts) }];
}

/** What shares its chance: one job made on one day. */
export function jobOf({ done, job }: Entry): string {
  return `${done}\n${job}`;
}

function restingOn(
  noted: readonly Entry[],
  counts: readonly boolean[],
): Pick<Correction, "runs" | "jobs" | "leftOut"> {
  const counting = noted.filter((_, index) => counts[index]);
  return {
    runs: counting.length,
    jobs: new Set(counting.map(jobOf)).size,
    leftOut: noted.filter((_, index) => !counts[index]),
  };
}

/** A time that somebody noted, with what it consists of. */
export interface Run {
  readonly machine: string;
  /** Of the run, by operation. */
  readonly parts: readonly Entry[];
  readonly took: number;
  /** The row that it was noted in. */
  readonly noted: Entry;
}

/**
 * Single operations, and whole runs by what their operations were estimated to take. A run of
 * nothing but one operation is one of it.
 */
export function runsOf(entries: readonly Entry[]): readonly Run[] {
  const ofMachine = entries.filter(({ what }) => what === "machine");
  return grouped(ofMachine, ({ done, job, machine, item }) =>
    [done, job, machine, item].join("\n"),
  ).flatMap((rows) => {
    const parts = rows.filter(({ operation, estimated }) => operation !== "all" && estimated > 0);
    return rows.flatMap((noted): Run[] => {
      const { machine, operation, took } = noted;
      if (took === null) return [];
      const of = operation === "all" ? parts : parts.filter((row) => row === noted);
      return of.length === 0 ? [] : [{ machine, parts: of, took, noted }];
    });
  });
}

/** Operations that never ran together have nothing to do with each other's factors. */
function machineFactors(runs: readonly Run[]): readonly Correction[] {
  const now = latestFeeds(runs);
  const together = runs.reduce<readonly (readonly Run[])[]>((groups, run) => {
    const joined = groups.filter((group) => group.some((one) => sharesOperation(one, run)));
    return [...groups.filter((group) => !joined.includes(group)), [...joined.flat(), run]];
  }, []);
  const found = together.flatMap((group) => apartFactors(group, now));
  return found.toSorted((a, b) => placeOf(a) - placeOf(b));
}

function sharesOperation(a: Run, b: Run): boolean {
  return a.parts.some((one) => b.parts.some(({ operation }) => operation === one.operation));
}

/** Engraving first, then scoring, then cutting: as they are worked. */
function placeOf({ operations }: Correction): number {
  return (PARTITIONS[0] ?? []).flat().findIndex((one) => operations.includes(one));
}

/**
 * Operations apart as far as the runs can tell them and leave something over to tell limits by; what
 * they can not tell, together.
 */
function apartFactors(
  runs: readonly Run[],
  now: ReadonlyMap<string, Entry>,
): readonly Correction[] {
  const ways = PARTITIONS.flatMap((groups) => {
    const found = groups
      .map((group) => group.filter((one) => runs.some(({ parts }) => parts.some(isOf([one])))))
      .filter((group) => group.length > 0);
    const fitted = factorsOf(runs.map((run) => comparedBy(run, found, now)));
    return fitted === null ? [] : [{ found, fitted }];
  });
  const told = ways.find(({ fitted }) => fitted.factors.every(({ between }) => between !== null));
  const chosen = told ?? ways.at(-1);
  return chosen === undefined ? [] : correctionsBy(runs, chosen.found, chosen.fitted);
}

function correctionsBy(
  runs: readonly Run[],
  groups: readonly (readonly Operation[])[],
  { factors, counts }: Factors,
): readonly Correction[] {
  return factors.map((factor, index) => {
    const operations = groups[index] ?? [];
    const ofIt = runs.map(({ parts }) => parts.some(isOf(operations)));
    const noted = runs.flatMap((run, at) => (ofIt[at] ? [run.noted] : []));
    const counting = counts.filter((_, at) => ofIt[at]);
    const name = runs[0]?.machine ?? "";
    return { ...factor, what: "machine", name, operations, ...restingOn(noted, counting) };
  });
}

/** From all apart to all together; of two that must go together rather those that follow lines. */
const PARTITIONS: readonly (readonly (readonly Operation[])[])[] = [
  [["engrave"], ["score"], ["cut"]],
  [["engrave"], ["score", "cut"]],
  [["engrave", "score"], ["cut"]],
  [["engrave", "cut"], ["score"]],
  [["engrave", "score", "cut"]],
];

function comparedBy(
  { parts, took, noted }: Run,
  groups: readonly (readonly Operation[])[],
  now: ReadonlyMap<string, Entry>,
): Compared {
  const estimated = groups.map((group) =>
    parts.filter(isOf(group)).reduce((sum, row) => sum + asOfNow(row, now), 0),
  );
  return { estimated, took, job: jobOf(noted) };
}

function isOf(operations: readonly Operation[]): (row: Entry) => boolean {
  return ({ operation }) => operations.some((one) => one === operation);
}

/** The newest row with a feed, by machine, material and operation. */
function latestFeeds(runs: readonly Run[]): ReadonlyMap<string, Entry> {
  return new Map(
    runs.flatMap(({ parts }) =>
      parts.flatMap((row) => (row.feedMmS === null ? [] : [[workOf(row), row] as const])),
    ),
  );
}

/**
 * What a row would be estimated at with the feed and passes of the newest job: else the jobs before a
 * feed was corrected would go on asking for the correction.
 */
function asOfNow(row: Entry, now: ReadonlyMap<string, Entry>): number {
  const latest = now.get(workOf(row));
  const lines = workingMinutes(row);
  if (!row.feedMmS || !latest?.feedMmS || lines === null) return row.estimated;
  const once = lines.at(latest.feedMmS / row.feedMmS) / (row.passes ?? 1);
  return row.estimated - lines.at(1) + once * (latest.passes ?? 1);
}

function workOf({ machine, item, operation }: Entry): string {
  return [machine, item, operation ?? ""].join("\n");
}

export function grouped<T>(
  items: readonly T[],
  keyOf: (item: T) => string,
): readonly (readonly T[])[] {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const key = keyOf(item);
    groups.set(key, [...(groups.get(key) ?? []), item]);
  }
  return [...groups.values()];
}
