import { createHash, randomUUID } from "node:crypto";
import { chmod, link, readFile, realpath, rename, rm, stat, writeFile } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { plainName } from "../names.ts";
import { errorAt, inFile } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { encodedAs } from "./encodings.ts";
import { systemProblem } from "./system-problem.ts";

/** Writing back into a job's own files, each of them whole or not at all. */

export interface KeptFile {
  /** As the job's texts are named. */
  readonly name: string;
  /** Of the bytes that the change was made from; null for a file that is new. */
  readonly sha256: string | null;
  /** Without a byte order mark: the file's own stays, as do its letters. */
  readonly text: string;
}

/**
 * Puts a new text in place of a file of the job, if the file still is what was read.
 * @param job the path of the job as the person gave it.
 */
export async function keepFile(job: string, file: KeptFile): Promise<readonly Problem[]> {
  const named = await pathOf(job, file.name);
  try {
    if (file.sha256 === null) await create(named, file.text);
    else if (!(await replace(await realpath(named), file.sha256, file.text)))
      return [changedMeanwhile(file.name)];
    return [];
  } catch (error) {
    return [systemProblem(named, error)];
  }
}

/** @returns false when the bytes are not those any more; then nothing is touched. */
async function replace(path: string, sha256: string, text: string): Promise<boolean> {
  const bytes = await readFile(path);
  if (createHash("sha256").update(bytes).digest("hex") !== sha256) return false;
  const { mode } = await stat(path);
  await aside(path, encodedAs(bytes, text), async (written) => {
    await chmod(written, mode);
    await rename(written, path);
  });
  return true;
}

/** A second name, unlike a new name, never takes the place of a file that came meanwhile. */
async function create(path: string, text: string): Promise<void> {
  await aside(path, text, (written) => link(written, path));
}

/** Inside the same folder: a rename is only atomic on one file system. */
async function aside(
  path: string,
  text: string | Uint8Array,
  put: (written: string) => Promise<void>,
): Promise<void> {
  const written = join(dirname(path), `.writing-${randomUUID()}`);
  try {
    await writeFile(written, text, { flush: true });
    await put(written);
  } finally {
    await rm(written, { force: true });
  }
}

/** A job is a folder, the parts.csv in one, or a lone list. */
async function pathOf(job: string, name: string): Promise<string> {
  const isFolder = await stat(job).then(
    (found) => found.isDirectory(),
    () => false,
  );
  if (isFolder) return join(job, name);
  const own = plainName(basename(job)) === plainName(name);
  return own ? resolve(job) : join(dirname(resolve(job)), name);
}

function changedMeanwhile(name: string): Problem {
  return errorAt(inFile(name), {
    code: "changed-meanwhile",
    found: "a file that was changed since it was read",
    expected: "the file as it was read",
    mend: "Read the job again, then save once more: the numbers changed on screen stay",
  });
}
