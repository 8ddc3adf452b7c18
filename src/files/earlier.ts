import { lstat, readdir, readFile, rename, stat, utimes, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { makeFolder } from "./make-folder.ts";
import { systemCode } from "./system-problem.ts";

/** Name of the folder of earlier sets inside an output folder. */
export const EARLIER = "earlier";

/**
 * Keeps a copy of a whole set in `earlier/NNN`. It is put together aside and comes to its place in
 * one step: a numbered folder is complete or not there. The set in place is not touched.
 * @returns `earlier/001`, the number after the highest that there is.
 */
export async function shelve(
  dir: string,
  aside: string,
  names: readonly string[],
): Promise<string> {
  const together = join(aside, EARLIER);
  for (const name of names) {
    await makeFolder(dirname(join(together, name)));
    await copyTo(join(dir, name), join(together, name));
  }
  await makeFolder(join(dir, EARLIER));
  const taken = (await readdir(join(dir, EARLIER))).filter((name) => /^\d+$/.test(name));
  const next = Math.max(0, ...taken.map(Number)) + 1;
  const folder = `${EARLIER}/${String(next).padStart(3, "0")}`;
  await rename(together, join(dir, folder));
  return folder;
}

/**
 * A copy with the times of the file, safe on the disk. Not a second name of the same file: what is
 * edited in place must not change what is kept. A link that leads nowhere holds nothing to keep.
 */
export async function copyTo(from: string, to: string): Promise<void> {
  try {
    await writeFile(to, await readFile(from), { flag: "wx", flush: true });
    const { atime, mtime } = await stat(from);
    await utimes(to, atime, mtime);
  } catch (error) {
    if (systemCode(error) !== "ENOENT" || !(await lstat(from)).isSymbolicLink()) throw error;
  }
}
