import type { Operation } from "../job/types.ts";
import { grouped, jobOf, runsOf } from "./comparison.ts";
import type { Entry } from "./entries.ts";
import { factorsOf, isFarOff } from "./factors.ts";
import type { Factor } from "./factors.ts";
import { workingMinutes } from "./working-minutes.ts";

/** Feeds as the log measured them: so fast must the beam have gone to take the time it took. */

interface TimedWork {
  readonly machine: string;
  readonly material: string;
  readonly thicknessMm: number;
  readonly operation: Operation;
}

export interface MeasuredFeed extends TimedWork {
  readonly passes: number;
  /** mm/s: between which and about which the next run is expected. */
  readonly low: number;
  readonly likely: number;
  readonly high: number;
  /** Between which the likely feed itself lies in 8 of 10 cases; null for one job. */
  readonly between: readonly [number, number] | null;
  readonly runs: number;
  /** Runs left out, being far off from the others. */
  readonly leftOut: number;
  /** Of the runs those whose rows do not say how their minutes go with the feed. */
  readonly unbent: number;
  /** Of the newest run that counts. */
  readonly done: string;
}

/** What was timed, and no feed comes of it. */
export interface WithheldFeed extends TimedWork {
  /**
   * A single job that is far off its estimate; runs that contradict each other; or lines so short or
   * so bent that their minutes hardly go with the feed.
   */
  readonly why: "far off" | "apart" | "slowed";
}

export interface MeasuredFeeds {
  readonly measured: readonly MeasuredFeed[];
  readonly withheld: readonly WithheldFeed[];
}

/**
 * For each machine, material, thickness and operation of which a run was timed alone, with the passes
 * of the newest. The lines along take what is left of the time when starts and travel are gone from
 * it as estimated, see {@link workingMinutes}. Not of engraving: how fast its lines go is set, and
 * what its time hides is the turns between them.
 */
export function measuredFeeds(entries: readonly Entry[]): MeasuredFeeds {
  const alone = runsOf(entries).flatMap(({ parts, took }) => {
    const [row, ...others] = parts;
    return row && others.length === 0 && row.operation !== "engrave" ? [{ row, took }] : [];
  });
  const found = grouped(alone, ({ row }) =>
    [row.machine, row.material, row.thicknessMm, row.operation].join("\n"),
  ).flatMap((same) => {
    const newest = same.at(-1)?.row;
    return newest ? ofOneWork(newest, same) : [];
  });
  return {
    measured: found.flatMap((one) => ("why" in one ? [] : [one])),
    withheld: found.flatMap((one) => ("why" in one ? [one] : [])),
  };
}

interface Timed {
  readonly row: Entry;
  readonly took: number;
}

function ofOneWork(
  newest: Entry,
  same: readonly Timed[],
): readonly (MeasuredFeed | WithheldFeed)[] {
  const { machine, material, thicknessMm, operation } = newest;
  if (!thicknessMm || !operation || operation === "all") return [];
  const work = { machine, material, thicknessMm, operation };
  const timed = same.filter(({ row }) => row.passes === newest.passes && row.feedMmS !== null);
  const speeds = timed.flatMap(({ row, took }) => {
    const speed = speedOf(row, took);
    return speed === null ? [] : [{ row, speed }];
  });
  if (speeds.length === 0) return timed.some(isSlowed) ? [{ ...work, why: "slowed" }] : [];
  const found = factorsOf(
    speeds.map(({ row, speed }) => ({ estimated: [1], took: speed, job: jobOf(row) })),
  );
  const [fit] = found?.factors ?? [];
  if (!found || !fit) return [];
  const kept = speeds.filter((_, index) => found.counts[index]);
  const why = doubt(fit, kept);
  if (why !== null) return [{ ...work, why }];
  const [low, high] = fit.next ?? [fit.factor / PUBLISHED_SPREAD, fit.factor * PUBLISHED_SPREAD];
  return [
    {
      ...work,
      passes: newest.passes ?? 1,
      low,
      likely: fit.factor,
      high,
      between: fit.between,
      runs: kept.length,
      leftOut: speeds.length - kept.length,
      unbent: kept.filter(({ row }) => workingMinutes(row)?.bent === false).length,
      done: kept.at(-1)?.row.done ?? newest.done,
    },
  ];
}

/** Each way, as a ratio: of published feeds for the same cut, for a job that has no second one. */
const PUBLISHED_SPREAD = 1.6;

/** From one end to the other, as a ratio: published feeds lie no farther apart than that. */
const APART = 5;

/** What speaks against a feed: it would say less than what is published, or rest on a slip. */
function doubt(
  { factor, between }: Factor,
  kept: readonly { readonly row: Entry }[],
): WithheldFeed["why"] | null {
  if (between !== null) return between[1] / between[0] > APART ? "apart" : null;
  const estimated = kept.at(-1)?.row.feedMmS ?? factor;
  return isFarOff(factor / estimated) ? "far off" : null;
}

/** mm/s along the lines; null where that can not be told. */
function speedOf(row: Entry, took: number): number | null {
  const lines = workingMinutes(row);
  if (lines === null || row.feedMmS === null) return null;
  const times = lines.timesFor(took - (row.estimated - lines.at(1)));
  return times === null ? null : times * row.feedMmS;
}

function isSlowed({ row, took }: Timed): boolean {
  const lines = workingMinutes(row);
  return lines !== null && took > row.estimated - lines.at(1);
}
