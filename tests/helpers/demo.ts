import { builtInTables, readJobFolder } from "../../src/files/read.ts";
import type { EstimateInput } from "../../src/estimate-data.ts";

/** The main demo from disk, with the price tables that come with the program. */
export async function demoInput(): Promise<EstimateInput> {
  const job = await readJobFolder("demo-data/marsh-birds");
  const tables = await builtInTables();
  if (!job.value || !tables.value) throw new Error("the demo can not be read");
  return {
    jobName: job.value.jobName,
    job: job.value.texts,
    tables: tables.value,
    seed: 1,
    steps: 2,
  };
}
