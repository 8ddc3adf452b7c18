import type { Estimate, EstimateInput } from "../estimate-data.ts";
import type { Checked } from "../problem.ts";
import type { Progress, Work } from "../work.ts";

/** What the screen's thread and the worker's thread say to each other. */

export interface Order {
  readonly run: number;
  readonly input: EstimateInput;
  /** Shared memory, read between two steps of the work: see the slots below. */
  readonly signals: Int32Array;
}

export type Reply =
  | { readonly kind: "begun"; readonly run: number }
  | { readonly kind: "progress"; readonly run: number; readonly progress: Progress<Estimate> }
  | { readonly kind: "result"; readonly run: number; readonly result: Checked<Estimate> };

/** The run that is still wanted; any other is dropped. */
export const WANTED = 0;
/** The run that is to end with the best it has. */
export const FINISH = 1;
export const SLOTS = 2;

/** Between two reports of progress. */
const REPORT_MS = 100;

/**
 * Drives the work to its end, reporting its beginning and then now and again; `best` goes along only when it changed since
 * the last report. Returns without a result when the run is not wanted any more.
 */
export function workOff(
  work: Work<Checked<Estimate>, Estimate>,
  { run, signals }: Pick<Order, "run" | "signals">,
  post: (reply: Reply) => void,
  nowMs: () => number,
): void {
  post({ kind: "begun", run });
  let reportedMs = -Infinity;
  let reported: Estimate | null = null;
  let turn = work.next();
  while (turn.done !== true) {
    if (Atomics.load(signals, WANTED) !== run) return;
    const now = nowMs();
    if (now - reportedMs >= REPORT_MS) {
      const { best } = turn.value;
      post({
        kind: "progress",
        run,
        progress: { ...turn.value, best: best === reported ? null : best },
      });
      reported = best;
      reportedMs = now;
    }
    turn = work.next(Atomics.load(signals, FINISH) === run);
  }
  post({ kind: "result", run, result: turn.value });
}
