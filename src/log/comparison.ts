import type { Operation } from "../job/types.ts";
import type { Entry } from "./entries.ts";
import { factorsOf } from "./factors.ts";
import type { Compared, Factor } from "./factors.ts";

/** What all jobs took against what they were estimated to: a factor for each machine and operation. */

export interface Correction extends Factor {
  readonly what: Entry["what"];
  /** Id of the machine, paint, task or sheet. */
  readonly name: string;
  /** What the factor is for: several where the runs do not tell them apart; none but for machines. */
  readonly operations: readonly Operation[];
  /** Runs that it rests on. */
  readonly runs: number;
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
  const pairs = same.flatMap(({ estimated, took, eachMin }) => {
    const asOf = newest?.eachMin && eachMin ? newest.eachMin / eachMin : 1;
    return took === null || estimated === 0 ? [] : [{ estimated: [estimated * asOf], took }];
  });
  const [factor] = factorsOf(pairs) ?? [];
  if (newest === undefined || factor === undefined) return [];
  const { what, item } = newest;
  return [{ ...factor, what, name: item, operations: [], runs: pairs.length }];
}

/** A time that somebody noted, with what it consists of. */
export interface Run {
  readonly machine: string;
  /** Of the run, by operation. */
  readonly parts: readonly Entry[];
  readonly took: number;
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
    return rows.flatMap(({ machine, operation, took }, index): Run[] => {
      if (took === null) return [];
      const of = operation === "all" ? parts : parts.filter((row) => row === rows[index]);
      return of.length === 0 ? [] : [{ machine, parts: of, took }];
    });
  });
}

/** Operations apart as far as the runs can tell them, what they can not tell together. */
function machineFactors(runs: readonly Run[]): readonly Correction[] {
  const [first] = runs;
  const now = latestSpeeds(runs);
  for (const groups of PARTITIONS) {
    const found = groups
      .map((group) => group.filter((one) => runs.some(({ parts }) => parts.some(isOf([one])))))
      .filter((group) => group.length > 0);
    const factors = factorsOf(runs.map((run) => comparedBy(run, found, now)));
    if (factors !== null)
      return factors.map((factor, i) => ({
        ...factor,
        what: "machine",
        name: first?.machine ?? "",
        operations: found[i] ?? [],
        runs: runs.filter(({ parts }) => parts.some(isOf(found[i] ?? []))).length,
      }));
  }
  return [];
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
  { parts, took }: Run,
  groups: readonly (readonly Operation[])[],
  now: ReadonlyMap<string, number>,
): Compared {
  const estimated = groups.map((group) =>
    parts.filter(isOf(group)).reduce((sum, row) => sum + asOfNow(row, now), 0),
  );
  return { estimated, took };
}

function isOf(operations: readonly Operation[]): (row: Entry) => boolean {
  return ({ operation }) => operations.some((one) => one === operation);
}

/** Feed over passes, by machine, material and operation, of the newest job. */
function latestSpeeds(runs: readonly Run[]): ReadonlyMap<string, number> {
  return new Map(
    runs.flatMap(({ parts }) =>
      parts.flatMap((row) => {
        const speed = speedOf(row);
        return speed === null ? [] : [[workOf(row), speed] as const];
      }),
    ),
  );
}

/**
 * What a row would be estimated at with the feed of the newest job: else the jobs before a feed was
 * corrected would go on asking for the correction.
 */
function asOfNow(row: Entry, now: ReadonlyMap<string, number>): number {
  const [then, latest] = [speedOf(row), now.get(workOf(row))];
  const working = row.workingMin;
  if (then === null || latest === undefined || working === null) return row.estimated;
  return row.estimated - working + (working * then) / latest;
}

function speedOf({ feedMmS, passes }: Entry): number | null {
  return feedMmS === null ? null : feedMmS / (passes ?? 1);
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
