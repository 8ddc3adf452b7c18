import { outputClash } from "../files/output-folder.ts";
import type { Sources } from "../files/output-folder.ts";
import { UsageError } from "./arguments.ts";

/** @throws UsageError when results in this folder would be read as part of the job. */
export async function assertOutApart(dir: string, sources: Sources): Promise<void> {
  const clash = await outputClash(dir, sources);
  if (clash !== null) throw new UsageError(`--out ${dir} is ${clash.found}. ${clash.mend}.`);
}
