import { mkdir, stat } from "node:fs/promises";
import { dirname } from "node:path";
import { isThere } from "./is-there.ts";
import { systemCode } from "./system-problem.ts";

/**
 * Makes a folder and those above it that are missing; one that is there is left as it is. The
 * recursive `mkdir` of Node.js 20 never comes back from places such as /proc, whose refusal reads as
 * "a folder above is missing".
 */
export async function makeFolder(path: string): Promise<void> {
  if (await made(path)) return;
  const above = dirname(path);
  if (above === path || (await isThere(above))) throw noNewFolders(path);
  await makeFolder(above);
  if (!(await made(path))) throw noNewFolders(path);
}

/** False where something above it is missing. */
async function made(path: string): Promise<boolean> {
  try {
    await mkdir(path);
    return true;
  } catch (error) {
    const code = systemCode(error);
    if (code === "EEXIST" && (await stat(path)).isDirectory()) return true;
    if (code === "ENOENT") return false;
    throw error;
  }
}

function noNewFolders(path: string): Error {
  return Object.assign(new Error(`no folder can be made at ${path}`), { code: "ENOTSUP" });
}
