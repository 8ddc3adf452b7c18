import type { Dirent, Stats } from "node:fs";
import { readdir, readFile, stat } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { eitherOf, isDrawingName, mendName, plainName } from "../names.ts";
import { checked, errorAt, inFile, isWorkbook, warningAt } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import { isList, isPartsList, JOB_FILES } from "../job/file-names.ts";
import type { SourceText } from "../job/types.ts";
import { decodeText } from "./decode.ts";
import { findJobFolders } from "./find-jobs.ts";
import { systemCode, systemProblem } from "./system-problem.ts";
import { WORKBOOK, workbooksNotRead } from "./workbook/names.ts";

/** Everything that is read from disk is read here. */

export interface JobFolder {
  /** Name of the folder, or of a lone parts list without its ending. */
  readonly jobName: string;
  /** By name; a lone parts list is the only one and keeps its own name. */
  readonly texts: readonly SourceText[];
}

/** Far more than a commission has; less than a home folder given by mistake. */
const MOST_FILES = 2000;
const MOST_BYTES = 64 * 1024 * 1024;
const READ = /\.(csv|ya?ml|svgz?|dxf)$/i;
const LONE = /\.(csv|xlsx)$/i;

/**
 * Reads the CSV, YAML, SVG and DXF files of a job folder, or a lone parts list, which may be a
 * workbook. A path to a parts.csv or parts.xlsx stands for its folder. Hidden folders, node_modules and folders of earlier results are
 * passed over.
 */
export async function readJobFolder(path: string): Promise<Checked<JobFolder>> {
  const kind = await statOf(path);
  if (!kind.value) return { value: null, problems: kind.problems };
  const jobName = basename(resolve(path));
  if (kind.value.isDirectory()) return readFolder(path, jobName);
  if (isPartsList(jobName)) {
    const folder = dirname(resolve(path));
    return readFolder(folder, basename(folder));
  }
  if (!LONE.test(jobName) || isList(jobName)) return { value: null, problems: [await noJob(path)] };
  const { value, problems } = await readTexts(dirname(path), [jobName]);
  return checked({ jobName: jobName.replace(LONE, ""), texts: value ?? [] }, problems);
}

/**
 * Reads the CSV files directly inside a folder of price tables. Their names begin with that of the
 * folder, `price-tables/hardware.csv`: a job may have a hardware.csv too.
 */
export async function readTableFolder(path: string): Promise<Checked<readonly SourceText[]>> {
  const kind = await statOf(path);
  if (!kind.value) return { value: null, problems: kind.problems };
  if (!kind.value.isDirectory()) return { value: null, problems: [notATableFolder(path)] };
  const listed = await listFolder(path);
  const names = (listed.value ?? [])
    .filter((entry) => entry.isFile() && /^[^.].*\.csv$/i.test(entry.name))
    .map(({ name }) => name);
  if (listed.value && names.length === 0) return { value: null, problems: [notATableFolder(path)] };
  const { value, problems } = await readTexts(path, names, `${basename(resolve(path))}/`);
  return checked(value ?? [], [...listed.problems, ...problems]);
}

export interface DrawingFolder {
  readonly texts: readonly SourceText[];
  /** Parts lists and job files that are there already. */
  readonly jobFiles: readonly string[];
  /** Of drawings that could not be read: they do not stand in the way of the others. */
  readonly unread: readonly Problem[];
}

/** The drawings of a folder, with those of the folders in it, whether or not it is a job. */
export async function readDrawings(path: string): Promise<Checked<DrawingFolder>> {
  const kind = await statOf(path);
  if (!kind.value) return { value: null, problems: kind.problems };
  if (!kind.value.isDirectory()) return { value: null, problems: [notAFolder(path)] };
  const { names, problems } = await findFiles(path, "");
  if (names.length > MOST_FILES) return { value: null, problems: [tooMany(path)] };
  const jobFiles = names.filter((name) => isPartsList(name) || JOB_FILES.includes(plainName(name)));
  const drawings = names.filter(isDrawingName);
  const texts: SourceText[] = [];
  const unread = [...problems];
  for (const name of drawings.toSorted(byName)) {
    const read = await readText(join(path, name), name.normalize("NFC"));
    if (read.value) texts.push(read.value);
    unread.push(...read.problems);
  }
  return { value: { texts, jobFiles, unread }, problems: [] };
}

/** The price tables that come with the program; the same from `src` and from `dist`. */
export async function builtInTables(): Promise<Checked<readonly SourceText[]>> {
  return readTableFolder(builtInTableFolder());
}

export function builtInTableFolder(): string {
  return fileURLToPath(new URL("../../price-tables", import.meta.url));
}

/** Whether a file of this name in a job folder is read as part of the job. */
export function isReadFromJob(name: string): boolean {
  return READ.test(name);
}

async function readFolder(path: string, jobName: string): Promise<Checked<JobFolder>> {
  const found = await findFiles(path, "");
  if (found.names.length > MOST_FILES) return { value: null, problems: [tooMany(path)] };
  if (!found.names.some(isPartsList)) {
    const jobs = await findJobFolders(path);
    if (jobs.length > 0) return { value: null, problems: [jobsBelow(path, jobs)] };
  }
  const { value, problems } = await readTexts(path, found.names);
  return checked({ jobName, texts: value ?? [] }, [
    ...found.problems,
    ...workbooksNotRead(found.names, found.workbooks),
    ...problems,
  ]);
}

interface Found {
  readonly names: readonly string[];
  /** Those in the folder itself that are not read. */
  readonly workbooks: readonly string[];
  readonly problems: readonly Problem[];
}

/** @param below path of the folder from the job's, empty or ending in `/`. */
async function findFiles(root: string, below: string): Promise<Found> {
  const { value, problems } = await listFolder(join(root, below), below || root);
  const entries = value ?? [];
  const names: string[] = [];
  const all = [...problems];
  if (below !== "" && entries.some(({ name }) => name === "quote.csv"))
    return { names, workbooks: [], problems };
  for (const entry of entries) {
    if (entry.name.startsWith(".") || names.length > MOST_FILES) continue;
    const name = `${below}${entry.name}`;
    if (entry.isDirectory() && entry.name !== "node_modules" && name !== "quote") {
      const inner = await findFiles(root, `${name}/`);
      names.push(...inner.names);
      all.push(...inner.problems);
    } else if (READ.test(entry.name) || isPartsList(name) || isList(name)) {
      if (entry.isFile()) names.push(name);
      else if (!entry.isDirectory()) all.push(notRegular(name));
    }
  }
  const workbooks = entries
    .map(({ name }) => name)
    .filter((name) => below === "" && WORKBOOK.test(name) && !isPartsList(name) && !isList(name));
  return { names, workbooks, problems: all };
}

async function listFolder(path: string, shown = path): Promise<Checked<readonly Dirent[]>> {
  try {
    return { value: await readdir(path, { withFileTypes: true }), problems: [] };
  } catch (error) {
    return { value: null, problems: [systemProblem(shown, error)] };
  }
}

async function readTexts(
  folder: string,
  names: readonly string[],
  prefix = "",
): Promise<Checked<readonly SourceText[]>> {
  const texts: SourceText[] = [];
  const problems: Problem[] = [];
  for (const name of names.toSorted(byName)) {
    const read = await readText(join(folder, name), `${prefix}${name}`.normalize("NFC"));
    if (read.value) texts.push(read.value);
    problems.push(...read.problems);
  }
  return checked(texts, problems);
}

async function readText(path: string, name: string): Promise<Checked<SourceText>> {
  try {
    const { size } = await stat(path);
    if (size > MOST_BYTES) return { value: null, problems: [tooLarge(name, size)] };
    const bytes = await readFile(path);
    if (!isWorkbook(name)) return decodeText(name, bytes);
    return (await import("./workbook/list.ts")).decodeWorkbook(name, bytes);
  } catch (error) {
    return { value: null, problems: [systemProblem(name, error)] };
  }
}

async function statOf(path: string): Promise<Checked<Stats>> {
  try {
    return { value: await stat(path), problems: [] };
  } catch (error) {
    if (systemCode(error) !== "ENOENT")
      return { value: null, problems: [systemProblem(path, error)] };
    const siblings = (await listFolder(dirname(path))).value ?? [];
    return { value: null, problems: [missing(path, siblings)] };
  }
}

/** By code units, so that the order is the same on every machine. */
function byName(a: string, b: string): number {
  if (a === b) return 0;
  return a < b ? -1 : 1;
}

function missing(path: string, siblings: readonly Dirent[]): Problem {
  const folder = dirname(path);
  const shown = siblings
    .filter(({ name }) => !name.startsWith("."))
    .map(({ name }) => (folder === "." && !path.startsWith(".") ? name : join(folder, name)));
  return errorAt(
    { file: path, line: null, column: null },
    {
      code: "path-missing",
      found: path,
      expected: "a folder or file that is there",
      mend: mendName(path, shown, "correct the path"),
    },
  );
}

async function noJob(path: string): Promise<Problem> {
  const job = await jobAround(path);
  const saveAs = WORKBOOK.test(path) ? "as .xlsx or CSV" : "as CSV";
  return errorAt(
    { file: path, line: null, column: null },
    {
      code: "no-job",
      found: basename(path),
      expected: "a job folder with a parts.csv, or a parts list that ends in .csv or .xlsx",
      mend:
        job === null
          ? `Name the folder of the job, or save the parts list ${saveAs}`
          : `Name the folder of the job: ${job}`,
    },
  );
}

/** The job folder that a file lies in, at most two folders up. */
async function jobAround(path: string): Promise<string | null> {
  for (const folder of [dirname(path), dirname(dirname(path))]) {
    const names = (await listFolder(folder)).value ?? [];
    if (names.some(({ name }) => isPartsList(name))) return folder;
  }
  return null;
}

function jobsBelow(path: string, jobs: readonly string[]): Problem {
  return errorAt(inFile(path), {
    code: "no-job",
    found: `a folder of ${jobs.length === 1 ? "one job" : `${jobs.length} jobs`}`,
    expected: "the folder of one job, with a parts.csv",
    mend: `Name ${eitherOf(jobs)}`,
  });
}

function notAFolder(path: string): Problem {
  return errorAt(inFile(path), {
    code: "not-a-folder",
    found: basename(path),
    expected: "a folder of drawings",
    mend: "Name the folder that the drawings are in",
  });
}

function notATableFolder(path: string): Problem {
  return errorAt(
    { file: path, line: null, column: null },
    {
      code: "no-tables",
      found: basename(path),
      expected: "a folder of price tables such as sheets.csv",
      mend: "Name a folder that holds them, or leave the built-in tables in place",
    },
  );
}

function tooMany(path: string): Problem {
  return errorAt(
    { file: path, line: null, column: null },
    {
      code: "too-many-files",
      found: `more than ${MOST_FILES} files`,
      expected: `a job folder with at most ${MOST_FILES} CSV, YAML, SVG and DXF files`,
      mend: "Name the folder of one job, or move what does not belong to it elsewhere",
    },
  );
}

function tooLarge(name: string, bytes: number): Problem {
  return errorAt(
    { file: name, line: null, column: null },
    {
      code: "file-too-large",
      found: `${Math.ceil(bytes / 1024 / 1024)} MiB`,
      expected: `at most ${MOST_BYTES / 1024 / 1024} MiB`,
      mend: "Simplify the drawing, or move the file out of the job folder",
    },
  );
}

function notRegular(name: string): Problem {
  return warningAt(
    { file: name, line: null, column: null },
    {
      code: "not-a-regular-file",
      found: basename(name),
      expected: "a file in the job folder itself",
      mend: "Copy the file into the job folder if the job needs it: links are not followed",
    },
  );
}
