import { checked, isError, unsaid } from "../problem.ts";
import type { Checked } from "../problem.ts";
import type { Doubts } from "./doubts.ts";
import { collectJob, jobTables } from "./job.ts";
import type { Changed, Collected } from "./job.ts";
import { checkReferences, spelledAsTables } from "./references.ts";
import type { Need } from "./references.ts";
import { collectTables } from "./tables.ts";
import type { Job, SourceText, Tables } from "./types.ts";

export interface Intake {
  readonly job: Job;
  readonly tables: Tables;
}

/** What a command starts from; the fields are those of an estimate's input. */
export interface IntakeTexts extends Changed {
  readonly jobName: string;
  /** Every text of the job folder, also of its folder `tables`. */
  readonly job: readonly SourceText[];
  readonly tables: readonly SourceText[];
}

/**
 * Reads a job and its tables, and checks one against the other: the problems of all files come
 * together, and names are as the tables spell them.
 * @param need how much of the tables the command uses.
 */
export function readIntake(texts: IntakeTexts, need: Need): Checked<Intake> {
  const { job, tables, problems } = collectIntake(texts, need);
  return checked({ job, tables }, problems);
}

/** As {@link readIntake}, but with what could be read even when there are errors. */
export function collectIntake(
  texts: IntakeTexts,
  need: Need,
): Intake & Pick<Collected, "unsure" | "materials" | "problems"> & { readonly doubts: Doubts } {
  const collected = collectJob(texts.jobName, texts.job, texts);
  const { job, named, materials, problems } = collected;
  const ofJob = jobTables(texts.job);
  const read = collectTables({ builtIn: texts.tables, ofJob, date: job.date });
  const doubts = {
    tables: read.doubts,
    errors: problems.filter(isError),
    parts: job.parts.length === 0 || job.parts.length < materials.length,
  };
  const references = checkReferences(named, read.tables, need, doubts);
  const spelled = spelledAsTables(job, read.tables);
  const unsure = spelledAsTables({ ...job, parts: collected.unsure }, read.tables).parts;
  const all = [...problems, ...read.problems, ...unsaid(references, read.problems)];
  return { job: spelled, unsure, tables: read.tables, materials, doubts, problems: all };
}
