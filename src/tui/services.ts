import type { Estimate, EstimateInput } from "../estimate-data.ts";
import type { Checked, Problem } from "../problem.ts";
import type { Progress } from "../work.ts";
import type { Changes } from "./changes.ts";

/** What the screen asks of the world around it; the shell that starts it brings these along. */

export interface OpenedJob {
  /** As the person named it, shown and opened again. */
  readonly path: string;
  readonly input: EstimateInput;
}

/** An estimate being worked out elsewhere; the screen stays free meanwhile. */
export interface RunningEstimate {
  /** Problems of the job, and faults of the worker, are in the value; it does not reject. */
  readonly result: Promise<Checked<Estimate>>;
  /** Has it end soon with the best it has. */
  finishEarly(): void;
  /** Its result is not wanted any more; `result` may then stay open for ever. */
  cancel(): void;
}

export type ProgressListener = (progress: Progress<Estimate>) => void;

export type ExportOutcome =
  | { readonly kind: "written"; readonly dir: string; readonly files: readonly string[] }
  | { readonly kind: "refused"; readonly problems: readonly Problem[] };

/** What was written stays written when another file was refused. */
export interface SaveOutcome {
  /** Names of the job's files that hold the changes now. */
  readonly files: readonly string[];
  readonly problems: readonly Problem[];
}

export interface Services {
  openJob(path: string): Promise<Checked<OpenedJob>>;
  startEstimate(input: EstimateInput, onProgress: ProgressListener): RunningEstimate;
  /** Writes every file of the quote; without a folder named into the usual one. */
  exportQuote(estimate: Estimate, dir?: string): Promise<ExportOutcome>;
  /** Writes changed numbers into the job's own files, where nothing but these numbers changes. */
  saveChanges(job: OpenedJob, changes: Changes): Promise<SaveOutcome>;
  /** Job folders below the current one, to choose from when no job was named. */
  findJobs(): Promise<readonly string[]>;
}
