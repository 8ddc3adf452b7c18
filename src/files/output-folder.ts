import { access, constants, readdir, realpath, stat } from "node:fs/promises";
import { dirname, join, relative, resolve, sep } from "node:path";
import { errorAt, inFile } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { plainName } from "../names.ts";
import { builtInTableFolder, isReadFromJob } from "./read.ts";
import { systemCode, systemProblem } from "./system-problem.ts";

/** Where a quote goes unless the person says otherwise: `quote` in the job's folder, or beside a lone list. */
export function usualOutputFolder(job: string): string {
  return join(folderOf(job), "quote");
}

export interface Sources {
  /** Folder of the job, or its list. */
  readonly job: string;
  /** Folder of the price tables; null for the built-in ones. */
  readonly tables: string | null;
}

/**
 * Why results should not be written into a folder, known before the work begins: our own files must
 * not be read as part of the job the next time, nor hide a part of it, since a folder with a
 * quote.csv is passed over. Null when nothing is against it.
 */
export async function outputClash(dir: string, { job, tables }: Sources): Promise<Problem | null> {
  const out = await realPath(dir);
  const jobFolder = await realPath(folderOf(job));
  if (out === jobFolder) return clash(dir, "the folder of the job itself", job);
  for (const folder of [tables ?? builtInTableFolder(), builtInTableFolder()])
    if (out === (await realPath(folder))) return clash(dir, "the folder of the price tables", job);
  const inside = relative(jobFolder, out);
  if (inside.startsWith("..") || resolve(inside) === inside) return null;
  const names: readonly string[] = await readdir(out, { recursive: true }).catch(() => []);
  if (inside === "quote" || names.includes("quote.csv")) return null;
  const [first = ""] = inside.split(sep);
  const inputs = names.filter((name) => isReadFromJob(name) && !OURS.test(name));
  // Both may be still to come; a folder of its own among the drawings does no harm.
  const isInput = plainName(first) === "tables" || plainName(inside) === "drawings";
  return isInput || inputs.length > 0 ? clash(dir, "a folder that belongs to the job", job) : null;
}

/** Folders inside an output folder that only results are written to. */
const OURS = /^(?:combs|layouts|earlier)[\\/]/;

/** Why nothing can be written into a folder, as far as can be known without writing. */
export async function outputBlock(dir: string): Promise<Problem | null> {
  for (let path = resolve(dir); ; path = dirname(path)) {
    try {
      const isFolder = (await stat(path)).isDirectory();
      if (!isFolder) throw Object.assign(new Error(path), { code: "EEXIST" });
      await access(path, constants.W_OK | constants.X_OK);
      return null;
    } catch (error) {
      if (systemCode(error) !== "ENOENT" || dirname(path) === path)
        return systemProblem(dir, error);
    }
  }
}

function folderOf(job: string): string {
  return /\.csv$/i.test(job) ? dirname(job) : job;
}

/** The path without links, also of a folder that is still to be made. */
async function realPath(path: string): Promise<string> {
  const whole = resolve(path);
  const above = dirname(whole);
  return realpath(whole).catch(async () =>
    above === whole ? whole : join(await realPath(above), relative(above, whole)),
  );
}

function clash(dir: string, what: string, job: string): Problem {
  return errorAt(inFile(dir), {
    code: "output-among-input",
    found: what,
    expected: "a folder that holds results only",
    mend: `Take ${usualOutputFolder(job)} or a folder of its own, so that results are never read as input`,
  });
}
