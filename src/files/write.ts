import {
  copyFile,
  constants,
  link,
  lstat,
  mkdir,
  mkdtemp,
  readdir,
  readFile,
  rename,
  rm,
  writeFile,
} from "node:fs/promises";
import { dirname, join } from "node:path";
import type { Problem } from "../problem.ts";
import { systemCode, systemProblem } from "./system-problem.ts";

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
  /** Earlier files that were moved out of the way. */
  readonly moved: readonly { readonly from: string; readonly to: string }[];
  /** What could not be written; everything in `written` is complete all the same. */
  readonly problems: readonly Problem[];
}

const EARLIER = "earlier";
const LAYOUTS = "layouts/";

/**
 * Writes the files of one run. All of them are written aside first, so that no half-written file is
 * ever in place; what stands in a file's way and differs, and layouts that the run no longer has,
 * are moved to `earlier/001`, the next number that is free.
 * @throws RangeError for names that lead out of the folder or occur twice: a fault of ours.
 */
export async function writeOutputs(
  dir: string,
  files: readonly OutputFile[],
): Promise<WriteReport> {
  assertNames(files.map(({ name }) => name));
  const run = new WriteRun(dir);
  try {
    await mkdir(dir, { recursive: true });
    await run.write(files);
  } catch (error) {
    run.refuse(dir, error);
  } finally {
    await run.cleanUp();
  }
  return run.report();
}

class WriteRun {
  readonly #dir: string;
  readonly #written: string[] = [];
  readonly #unchanged: string[] = [];
  readonly #moved: { from: string; to: string }[] = [];
  readonly #problems: Problem[] = [];
  #staging: string | null = null;
  #earlier: string | null = null;

  constructor(dir: string) {
    this.#dir = dir;
  }

  report(): WriteReport {
    const [written, unchanged] = [this.#written, this.#unchanged];
    return { written, unchanged, moved: this.#moved, problems: this.#problems };
  }

  refuse(path: string, error: unknown): void {
    this.#problems.push(systemProblem(path, error));
  }

  async write(files: readonly OutputFile[]): Promise<void> {
    const changed: OutputFile[] = [];
    for (const file of files) {
      if (await this.#isThere(file)) this.#unchanged.push(file.name);
      else changed.push(file);
    }
    const staged = changed.length === 0 || (await this.#stageAll(changed));
    if (!staged) return;
    for (const { name } of changed) await this.#attempt(name, () => this.#putInPlace(name));
    for (const name of await this.#staleLayouts(files))
      await this.#attempt(name, () => this.#moveAway(name));
  }

  async cleanUp(): Promise<void> {
    if (this.#staging !== null) await rm(this.#staging, { recursive: true, force: true });
  }

  async #attempt(name: string, step: () => Promise<void>): Promise<boolean> {
    try {
      await step();
      return true;
    } catch (error) {
      this.refuse(this.#at(name), error);
      return false;
    }
  }

  async #isThere({ name, content }: OutputFile): Promise<boolean> {
    try {
      return (await readFile(this.#at(name))).equals(Buffer.from(content));
    } catch {
      // Missing, a folder or not readable: writing it will tell.
      return false;
    }
  }

  /** Inside the folder itself: a rename is only atomic on one file system. */
  async #stageAll(files: readonly OutputFile[]): Promise<boolean> {
    const staging = await mkdtemp(this.#at(".writing-"));
    this.#staging = staging;
    for (const { name, content } of files) {
      const done = await this.#attempt(name, async () => {
        await mkdir(dirname(join(staging, name)), { recursive: true });
        await writeFile(join(staging, name), content, { flush: true });
      });
      if (!done) return false;
    }
    return true;
  }

  /** The older file has its second name before the new one takes the first: there is always one. */
  async #putInPlace(name: string): Promise<void> {
    await mkdir(dirname(this.#at(name)), { recursive: true });
    const stands = await kindOf(this.#at(name));
    if (stands === "folder") throw Object.assign(new Error(name), { code: "EISDIR" });
    if (stands === "file") {
      const to = await this.#placeInEarlier(name);
      await keepAs(this.#at(name), this.#at(to));
      this.#moved.push({ from: name, to });
    }
    await rename(join(this.#staging ?? "", name), this.#at(name));
    this.#written.push(name);
  }

  async #moveAway(name: string): Promise<void> {
    const to = await this.#placeInEarlier(name);
    await rename(this.#at(name), this.#at(to));
    this.#moved.push({ from: name, to });
  }

  async #placeInEarlier(name: string): Promise<string> {
    this.#earlier ??= await this.#nextEarlier();
    const to = `${this.#earlier}/${name}`;
    await mkdir(dirname(this.#at(to)), { recursive: true });
    return to;
  }

  /** Claims the next number; another run that claims it at the same time gets the one after. */
  async #nextEarlier(): Promise<string> {
    await mkdir(this.#at(EARLIER), { recursive: true });
    const taken = (await readdir(this.#at(EARLIER))).filter((name) => /^\d+$/.test(name));
    for (let next = Math.max(0, ...taken.map(Number)) + 1; ; next += 1) {
      const name = `${EARLIER}/${String(next).padStart(3, "0")}`;
      try {
        await mkdir(this.#at(name));
        return name;
      } catch (error) {
        if (systemCode(error) !== "EEXIST") throw error;
      }
    }
  }

  /** Layouts of an earlier run, when this one has layouts of its own. */
  async #staleLayouts(files: readonly OutputFile[]): Promise<readonly string[]> {
    const current = new Set(files.map(({ name }) => name));
    if (!files.some(({ name }) => name.startsWith(LAYOUTS))) return [];
    const entries = await readdir(this.#at(LAYOUTS), { withFileTypes: true });
    return entries
      .filter((entry) => entry.isFile() && /^\d+-.*\.(svg|dxf)$/i.test(entry.name))
      .map(({ name }) => `${LAYOUTS}${name}`)
      .filter((name) => !current.has(name))
      .toSorted();
  }

  #at(name: string): string {
    return join(this.#dir, name);
  }
}

async function kindOf(path: string): Promise<"none" | "file" | "folder"> {
  try {
    return (await lstat(path)).isDirectory() ? "folder" : "file";
  } catch (error) {
    if (systemCode(error) === "ENOENT") return "none";
    throw error;
  }
}

/** A second name where the file system has such, else a copy. */
async function keepAs(from: string, to: string): Promise<void> {
  try {
    await link(from, to);
  } catch {
    await copyFile(from, to, constants.COPYFILE_EXCL);
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
