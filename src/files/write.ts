import { lstat, readdir, readFile, rename, rm, stat, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import type { Problem } from "../problem.ts";
import { copyTo, EARLIER, shelve } from "./earlier.ts";
import { makeFolder } from "./make-folder.ts";
import { asOnlyRun } from "./one-run.ts";
import { PathError, systemCode, systemProblem } from "./system-problem.ts";

/** Everything that is written to disk is written here, and nothing that was there is lost. */

export interface OutputFile {
  /** Path inside the output folder, with `/`: `layouts/01-acrylic.svg`. */
  readonly name: string;
  readonly content: string | Uint8Array;
}

/** Names are paths inside the output folder, with `/`. */
export interface WriteReport {
  readonly written: readonly string[];
  /** Were there with the same bytes and have not been touched. */
  readonly unchanged: readonly string[];
  /** Where the set that was there before is kept; null when nothing had to make way. */
  readonly earlier: EarlierSet | null;
  /** Why nothing was written; empty when all is in place. */
  readonly problems: readonly Problem[];
}

export interface EarlierSet {
  /** `earlier/001` */
  readonly folder: string;
  /** The whole set, with those that are still in place unchanged. */
  readonly files: readonly string[];
  /** Those of them that have another content now, or are gone. */
  readonly replaced: readonly string[];
}

const LAYOUTS = "layouts/";
/** Where the new files wait aside. */
const NEW = "new";

/**
 * Writes the files of one run: all of them or none. They are written aside first, so that no
 * half-written file is ever in place. When a file that is there differs, or a layout is not needed
 * any more, the whole set that was there is first kept in `earlier/001`, the next free number.
 * @throws RangeError for names that lead out of the folder or occur twice: a fault of ours.
 */
export async function writeOutputs(
  dir: string,
  files: readonly OutputFile[],
): Promise<WriteReport> {
  assertNames(files.map(({ name }) => name));
  try {
    await makeFolder(dir);
    if (isDone(await lookAt(dir, files))) return nothingToDo(files);
    return await asOnlyRun(dir, async (aside) => replaceSet(dir, files, aside));
  } catch (error) {
    const problem =
      error instanceof PathError
        ? systemProblem(error.path, error.cause)
        : systemProblem(dir, error);
    return { written: [], unchanged: [], earlier: null, problems: [problem] };
  }
}

function nothingToDo(files: readonly OutputFile[]): WriteReport {
  return { written: [], unchanged: files.map(({ name }) => name), earlier: null, problems: [] };
}

/** How the files of a run compare with what is in the folder. */
interface Found {
  /** Not there yet. */
  readonly added: readonly OutputFile[];
  /** There with other bytes. */
  readonly differing: readonly OutputFile[];
  readonly unchanged: readonly string[];
  /** Layouts of an earlier run that this one does not have. */
  readonly stale: readonly string[];
}

async function lookAt(dir: string, files: readonly OutputFile[]): Promise<Found> {
  const added: OutputFile[] = [];
  const differing: OutputFile[] = [];
  const unchanged: string[] = [];
  for (const file of files) {
    const taken = await atPath(join(dir, file.name), isTaken);
    if (!taken) added.push(file);
    else if (await hasContent(join(dir, file.name), file.content)) unchanged.push(file.name);
    else differing.push(file);
  }
  return { added, differing, unchanged, stale: await staleLayouts(dir, files) };
}

function isDone({ added, differing, stale }: Found): boolean {
  return added.length + differing.length + stale.length === 0;
}

/** @throws an error with code `EISDIR` where a folder, or a thing that is no file, is in the way. */
async function isTaken(path: string): Promise<boolean> {
  try {
    if ((await stat(path)).isFile()) return true;
  } catch (error) {
    if (systemCode(error) !== "ENOENT") throw error;
    return lstat(path).then(
      () => true,
      () => false,
    );
  }
  throw Object.assign(new Error(path), { code: "EISDIR" });
}

async function hasContent(path: string, content: string | Uint8Array): Promise<boolean> {
  try {
    return (await readFile(path)).equals(Buffer.from(content));
  } catch {
    // What can not be read is not ours to judge: it is kept and another takes its place.
    return false;
  }
}

/** Only a run that has layouts itself knows that others are not needed. */
async function staleLayouts(dir: string, files: readonly OutputFile[]): Promise<readonly string[]> {
  const current = new Set(files.map(({ name }) => name));
  if (!files.some(({ name }) => name.startsWith(LAYOUTS))) return [];
  const entries = await readdir(join(dir, LAYOUTS), { withFileTypes: true }).catch(() => []);
  return entries
    .filter((entry) => entry.isFile() && /^\d+-.*\.(svg|dxf)$/i.test(entry.name))
    .map(({ name }) => `${LAYOUTS}${name}`)
    .filter((name) => !current.has(name))
    .toSorted();
}

/** @param aside folder on the same disk, since a rename is atomic on one file system only. */
async function replaceSet(
  dir: string,
  files: readonly OutputFile[],
  aside: string,
): Promise<WriteReport> {
  const found = await lookAt(dir, files);
  const changed = [...found.added, ...found.differing];
  for (const { name, content } of changed)
    await atPath(join(dir, name), async (path) => {
      await makeFolder(dirname(join(aside, NEW, name)));
      await writeFile(join(aside, NEW, name), content, { flush: true });
      await makeFolder(dirname(path));
    });
  const replaced = [...found.differing.map(({ name }) => name), ...found.stale];
  const before = [...replaced, ...found.unchanged].toSorted();
  const folder = replaced.length === 0 ? null : await shelve(dir, aside, before);
  await putInPlace(dir, aside, { ...found, folder });
  return {
    written: changed.map(({ name }) => name),
    unchanged: found.unchanged,
    earlier: folder === null ? null : { folder, files: before, replaced },
    problems: [],
  };
}

/** One step after the other; when one fails, those before it are undone. */
async function putInPlace(
  dir: string,
  aside: string,
  { added, differing, stale, folder }: Found & { readonly folder: string | null },
): Promise<void> {
  const undo: (() => Promise<void>)[] = [];
  const put = async (name: string): Promise<void> =>
    atPath(join(dir, name), async (path) => rename(join(aside, NEW, name), path));
  const bringBack = async (name: string): Promise<void> => {
    await copyTo(join(dir, folder ?? EARLIER, name), join(aside, NEW, name));
    await put(name);
  };
  try {
    for (const { name } of differing) {
      await put(name);
      undo.push(async () => bringBack(name));
    }
    for (const { name } of added) {
      await put(name);
      undo.push(async () => rm(join(dir, name)));
    }
    for (const name of stale) {
      await atPath(join(dir, name), async (path) => rm(path));
      undo.push(async () => bringBack(name));
    }
  } catch (error) {
    for (const step of undo.toReversed()) await step().catch(() => undefined);
    throw error;
  }
}

/** Has an error name the path in the output folder that it stopped at. */
async function atPath<T>(path: string, step: (path: string) => Promise<T>): Promise<T> {
  try {
    return await step(path);
  } catch (cause) {
    throw new PathError(path, cause);
  }
}

function assertNames(names: readonly string[]): void {
  const seen = new Set<string>();
  for (const name of names) {
    const steps = name.split("/");
    const safe = steps.every((step) => step !== "" && step !== "." && step !== "..");
    if (!safe || /[\\:]/.test(name) || steps[0] === EARLIER)
      throw new RangeError(`"${name}" is no name for an output file`);
    if (seen.has(name.toLowerCase())) throw new RangeError(`two output files are named "${name}"`);
    seen.add(name.toLowerCase());
  }
}
