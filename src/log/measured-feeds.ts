import type { Operation } from "../job/types.ts";
import { grouped, runsOf } from "./comparison.ts";
import type { Entry } from "./entries.ts";
import { factorsOf } from "./factors.ts";

/** Feeds as the log measured them: so fast must the beam have gone to take the time it took. */

export interface MeasuredFeed {
  readonly machine: string;
  readonly material: string;
  readonly thicknessMm: number;
  readonly operation: Operation;
  readonly passes: number;
  /** mm/s: between which and about which the next run is expected. */
  readonly low: number;
  readonly likely: number;
  readonly high: number;
  /** Between which the likely feed itself lies in 8 of 10 cases; null for one run. */
  readonly between: readonly [number, number] | null;
  readonly runs: number;
  /** Of the newest run. */
  readonly done: string;
}

/**
 * One for each machine, material, thickness and operation of which a run was timed alone, with the
 * passes of the newest. The lines along take what is left of the time when starts and travel are
 * gone from it as estimated. Not of engraving: how fast its lines go is set, and what its time hides
 * is the turns between them.
 */
export function measuredFeeds(entries: readonly Entry[]): readonly MeasuredFeed[] {
  const alone = runsOf(entries).flatMap(({ parts, took }) => {
    const [row, ...others] = parts;
    const speed = row && others.length === 0 ? speedOf(row, took) : null;
    return row && speed !== null ? [{ row, speed }] : [];
  });
  return grouped(alone, ({ row }) =>
    [row.machine, row.material, row.thicknessMm, row.operation].join("\n"),
  ).flatMap((same) => {
    const newest = same.at(-1)?.row;
    const speeds = same.flatMap(({ row, speed }) =>
      row.passes === newest?.passes ? [{ estimated: [1], took: speed }] : [],
    );
    const [fit] = factorsOf(speeds) ?? [];
    const { operation, thicknessMm } = newest ?? {};
    if (!newest || !fit || !thicknessMm || !operation || operation === "all") return [];
    const { machine, material, done } = newest;
    const [low, high] = fit.next ?? [fit.factor / PUBLISHED_SPREAD, fit.factor * PUBLISHED_SPREAD];
    return [
      {
        machine,
        material,
        thicknessMm,
        operation,
        passes: newest.passes ?? 1,
        low,
        likely: fit.factor,
        high,
        between: fit.between,
        runs: speeds.length,
        done,
      },
    ];
  });
}

/** Each way, as a ratio: of published feeds for the same cut, for a run that has no second one. */
const PUBLISHED_SPREAD = 1.6;

/** mm/s along the lines; null where that can not be told. */
function speedOf(
  { operation, feedMmS, workingMin, estimated }: Entry,
  took: number,
): number | null {
  if (operation === "engrave" || feedMmS === null || workingMin === null) return null;
  const working = took - (estimated - workingMin);
  return working > 0 && workingMin > 0 ? (feedMmS * workingMin) / working : null;
}
