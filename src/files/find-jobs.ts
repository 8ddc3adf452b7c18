import { readdir } from "node:fs/promises";
import { join } from "node:path";
import { isPartsList } from "../job/file-names.ts";

const DEEPEST = 3;
const MOST_JOBS = 50;

/** Folders with a parts list at or a little below a folder, by name; unreadable ones are passed over. */
export async function findJobFolders(folder: string, depth = 0): Promise<readonly string[]> {
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => []);
  const here = entries.some((entry) => entry.isFile() && isPartsList(entry.name)) ? [folder] : [];
  if (depth === DEEPEST) return here;
  const below = entries
    .filter((entry) => entry.isDirectory() && !/^\.|^node_modules$|^quote$/.test(entry.name))
    .map(({ name }) => name)
    .sort();
  const found = await Promise.all(
    below.map((name) => findJobFolders(join(folder, name), depth + 1)),
  );
  return [...here, ...found.flat()].slice(0, MOST_JOBS);
}
