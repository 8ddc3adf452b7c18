import { readdir } from "node:fs/promises";
import { join } from "node:path";
import { plainName } from "../names.ts";

const DEEPEST = 3;
const MOST_JOBS = 50;

/** Folders with a parts.csv at or a little below a folder, by name; unreadable ones are passed over. */
export async function findJobFolders(folder: string, depth = 0): Promise<readonly string[]> {
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => []);
  const here = entries.some((entry) => entry.isFile() && plainName(entry.name) === "parts.csv")
    ? [folder]
    : [];
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
