import { builtInTables, readJobFolder } from "../../src/files/read.ts";
import type { EstimateInput } from "../../src/estimate-data.ts";

/** The demos there are, the main one first. */
export const DEMOS = ["marsh-birds", "ribbed-shade", "opening-sign"] as const;

/** A demo from disk, with the price tables that come with the program. */
export async function demoInput(
  demo: (typeof DEMOS)[number] = "marsh-birds",
): Promise<EstimateInput> {
  const job = await readJobFolder(`demo-data/${demo}`);
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
