import { corrections } from "./comparison.ts";
import type { Entry } from "./entries.ts";

/** Minutes of hand work as the log measured them. */

export interface MeasuredTask {
  /** Id in the tasks table. */
  readonly task: string;
  /** Minutes for one of what the task counts: between which and about which the next job is expected. */
  readonly low: number;
  readonly likely: number;
  readonly high: number;
  /** Between which the likely minutes lie in 8 of 10 cases. */
  readonly between: readonly [number, number];
  readonly runs: number;
  /** Of the newest job. */
  readonly done: string;
}

/**
 * Of tasks that were noted in two jobs or more: hands are less even than machines. Jobs that said
 * their own minutes tell nothing of the table's.
 */
export function measuredTasks(entries: readonly Entry[]): readonly MeasuredTask[] {
  const ofTable = entries.filter(({ what, eachMin }) => what === "hand work" && eachMin);
  return corrections(ofTable).flatMap(({ name, factor, between, next, runs }) => {
    const newest = ofTable.findLast((one) => one.item === name && one.took !== null);
    const each = newest?.eachMin;
    if (!newest || !each || between === null || next === null) return [];
    return [
      {
        task: name,
        low: next[0] * each,
        likely: factor * each,
        high: next[1] * each,
        between: [between[0] * each, between[1] * each],
        runs,
        done: newest.done,
      },
    ];
  });
}
