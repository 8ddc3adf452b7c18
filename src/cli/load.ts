import type { EstimateInput } from "../estimate-data.ts";
import { builtInTables, readJobFolder, readTableFolder } from "../files/read.ts";
import { checked } from "../problem.ts";
import type { Checked } from "../problem.ts";
import type { CommandArguments } from "./arguments.ts";

/** Reads a job and its tables from disk into the texts that everything follows from. */
export async function loadInput(
  args: Pick<CommandArguments, "job" | "tables" | "seed" | "steps">,
): Promise<Checked<EstimateInput>> {
  const [job, tables] = await Promise.all([
    readJobFolder(args.job),
    args.tables === null ? builtInTables() : readTableFolder(args.tables),
  ]);
  const problems = [...job.problems, ...tables.problems];
  if (!job.value || !tables.value) return { value: null, problems };
  const { jobName, texts } = job.value;
  const { seed, steps } = args;
  return checked({ jobName, job: texts, tables: tables.value, seed, steps }, problems);
}
