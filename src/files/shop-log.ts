import { readFile, rename, stat, writeFile } from "node:fs/promises";
import { basename, dirname, join, relative, resolve, sep } from "node:path";
import { FORM, isPartsList, SHOP_LOG } from "../job/file-names.ts";
import type { SourceText } from "../job/types.ts";
import { errorAt, inFile } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import { decodeText } from "./decode.ts";
import { encodedAs } from "./encodings.ts";
import { isThere } from "./is-there.ts";
import { makeFolder } from "./make-folder.ts";
import { asOnlyRun } from "./one-run.ts";
import { systemCode, systemProblem } from "./system-problem.ts";

/** The form of a job, and the log that all jobs of a shop are written into. */

/** The folder of a job that was named by it or by its parts list. */
export function jobFolderOf(job: string): string {
  return isPartsList(basename(job)) ? dirname(job) : job;
}

export function formPath(job: string): string {
  return join(jobFolderOf(job), FORM);
}

/** In the folder that the jobs are in, unless another is named. */
export function shopLogPath(job: string, named: string | null): string {
  return named ?? join(jobFolderOf(job), "..", SHOP_LOG);
}

/**
 * What a log calls a job: its folder, seen from the folder that the log is in, so that two of one name
 * are two jobs.
 */
export function nameInLog(job: string, log: string): string {
  const folder = resolve(jobFolderOf(job));
  const seen = relative(dirname(resolve(log)), folder);
  return seen === "" ? basename(folder) : seen.split(sep).join("/");
}

/** Why no form can lie there; null where the job has a folder. */
export async function noJobFolder(job: string): Promise<Problem | null> {
  const isFolder = await stat(jobFolderOf(job)).then(
    (found) => found.isDirectory(),
    () => false,
  );
  if (isFolder) return null;
  return errorAt(inFile(job), {
    code: "no-job-folder",
    found: basename(job),
    expected: "the folder of a job, where the form can lie",
    mend: "Put the parts list into a folder of its own as parts.csv",
  });
}

/** Why no form can be put there: the job has no folder, or its form is there. */
export async function formInTheWay(job: string): Promise<Problem | null> {
  const homeless = await noJobFolder(job);
  if (homeless !== null) return homeless;
  if (!(await isThere(formPath(job)))) return null;
  return errorAt(inFile(formPath(job)), {
    code: "already-there",
    found: FORM,
    expected: "a job without it: the form with its estimate stays as it is",
    mend: "Fill it in and record it with --done, or move it away for a new estimate",
  });
}

/** A text file by its path; null where there is none. */
export async function readIfThere(path: string): Promise<Checked<SourceText> | null> {
  try {
    const bytes = await bytesOf(path);
    return bytes === null ? null : decodeText(path, bytes);
  } catch (error) {
    return { value: null, problems: [systemProblem(path, error)] };
  }
}

/**
 * Puts a longer text in place of the log: written aside and moved, so that it is whole at any time,
 * and by one run at a time, so that no other's rows are lost.
 * @param add makes the new text from what is there; null where there is none yet.
 * @returns how many rows came to it.
 */
export async function addToLog(
  path: string,
  add: (log: SourceText | null) => Checked<{ readonly text: string; readonly added: number }>,
): Promise<Checked<number>> {
  try {
    await makeFolder(dirname(path));
    return await asOnlyRun(dirname(path), async (aside) => {
      const bytes = await bytesOf(path);
      const log = bytes === null ? null : decodeText(path, bytes);
      if (log !== null && log.value === null) return { value: null, problems: log.problems };
      const { value, problems } = add(log?.value ?? null);
      if (value === null) return { value: null, problems };
      if (value.added > 0) {
        const written = join(aside, basename(path));
        const content = bytes === null ? value.text : encodedAs(bytes, value.text);
        await writeFile(written, content, { flush: true });
        await rename(written, path);
      }
      return { value: value.added, problems };
    });
  } catch (error) {
    return { value: null, problems: [systemProblem(path, error)] };
  }
}

/** Null where there is no such file. */
async function bytesOf(path: string): Promise<Buffer | null> {
  try {
    return await readFile(path);
  } catch (error) {
    if (systemCode(error) === "ENOENT") return null;
    throw error;
  }
}
