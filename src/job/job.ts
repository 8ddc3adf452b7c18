import { checked, errorAt, inColumn, inFile, warningAt } from "../problem.ts";
import type { Checked, Place, Problem } from "../problem.ts";
import { finishInstead, withAlternative } from "./alternatives.ts";
import { FORM, JOB_FILES, LISTS, SHOP_LOG, asCsvName, isList, isPartsList } from "./file-names.ts";
import { NO_JOB_FILE, readJobFile } from "./job-file.ts";
import type { JobFile, JobFileRead } from "./job-file.ts";
import { readHandWork, readHardwareUses, readLengthUses } from "./lists.ts";
import { readJoints } from "./joints.ts";
import { isDrawingName, mendName, plainName } from "../names.ts";
import { readOffcuts } from "./offcuts.ts";
import { readPartsList, withQuantities } from "./parts-list.ts";
import type { PartsRead } from "./parts-list.ts";
import type { Named } from "./references.ts";
import type { Alternative, Job, Part, SourceText } from "./types.ts";

/** Copies in all; more is a slip in a quantity, and would only wear out the machine. */
const MOST_COPIES = 100_000;

/**
 * Reads a job from the texts of its folder and collects the problems of all files.
 * @param texts a folder's, with the parts list named parts.csv or parts.xlsx; or one lone list of
 *   any name.
 * @param changed on screen, instead of what the files say.
 */
export function readJob(
  jobName: string,
  texts: readonly SourceText[],
  changed: Changed = {},
): Checked<Job> {
  const { job, problems } = collectJob(jobName, texts, changed);
  return checked(job, problems);
}

export interface Changed {
  /** By part name, instead of those in the parts list. */
  readonly quantities?: Readonly<Record<string, number>>;
  /** How many are commissioned, instead of what the job file says. */
  readonly pieces?: number;
  /** Another material or finish, instead of the one that the lists say. */
  readonly instead?: Alternative;
}

/** What could be read of a job, with everything that is wrong with it. */
export interface Collected {
  readonly job: Job;
  /** Parts of rows with a fault, as far as they are known. */
  readonly unsure: readonly Part[];
  /** What every row names, also of faulty ones. */
  readonly named: Named;
  /** Of every row of the parts list, also of faulty ones. */
  readonly materials: PartsRead["materials"];
  readonly problems: readonly Problem[];
}

/** As {@link readJob}, but with what could be read even when there are errors. */
export function collectJob(
  jobName: string,
  texts: readonly SourceText[],
  { quantities = {}, pieces, instead }: Changed = {},
): Collected {
  const list = partsListOf(texts);
  const listed = readParts(list, texts, quantities);
  const read = instead === undefined ? listed : withAlternative(listed, instead);
  const jobFile = readFirst<JobFileRead>(texts, JOB_FILES, readJobFile);
  const hardware = readList(texts, "hardware.csv", (text) => readHardwareUses(text, read.names));
  const joints = readList(texts, "joints.csv", (text) => readJoints(text, read.names));
  const lengths = readList(texts, "lengths.csv", readLengthUses);
  const handWork = readList(texts, "hand-work.csv", (text) => readHandWork(text, read.names));
  const names = texts.map(({ name }) => name);
  const offcuts = readList(texts, "offcuts.csv", (text) => readOffcuts(text, names));
  const { title, piecesPlace, machinePlace, ...said } = withPieces(
    jobFile?.file ?? NO_JOB_FILE,
    pieces,
  );
  const job: Job = {
    ...said,
    name: jobName,
    title: title ?? jobName,
    piecesPlace: piecesPlace ?? { file: list?.name ?? "parts.csv", line: null, column: null },
    ...(machinePlace === null ? {} : { machinePlace }),
    parts: read.parts,
    hardware: hardware?.uses ?? [],
    joints: joints?.uses ?? [],
    lengths: (lengths?.uses ?? []).map((use) => ({
      ...use,
      finish: finishInstead(use.finish, instead ?? null),
    })),
    handWork: handWork?.uses ?? [],
    offcuts: offcuts?.uses ?? [],
  };
  const named: Named = {
    ...job,
    parts: read.named,
    hardware: hardware?.named ?? [],
    joints: joints?.named ?? [],
    lengths: lengths?.named ?? [],
    handWork: handWork?.named ?? [],
    offcuts: offcuts?.named ?? [],
  };
  const lists = [jobFile, read, hardware, joints, lengths, handWork, offcuts];
  const problems = lists.flatMap((one) => one?.problems ?? []);
  const all = [...problems, ...tooMany(job), ...strayFiles(texts, list)];
  return { job, unsure: read.unsure, named, materials: read.materials, problems: all };
}

/** The job's own rows of the price tables: the CSV files in its folder `tables`. */
export function jobTables(texts: readonly SourceText[]): readonly SourceText[] {
  return texts.filter(({ name }) => /^tables\/[^/]+\.csv$/i.test(name));
}

export function partsListOf(texts: readonly SourceText[]): SourceText | null {
  const named = texts.find(({ name }) => isPartsList(name));
  const [only] = texts;
  const lone = texts.length === 1 && only && /\.(csv|xlsx)$/i.test(only.name) ? only : null;
  const other = lone !== null && isList(lone.name);
  return named ?? (other ? null : lone);
}

function readParts(
  list: SourceText | null,
  texts: readonly SourceText[],
  quantities: Readonly<Record<string, number>>,
): PartsRead {
  if (list === null) {
    return {
      parts: [],
      unsure: [],
      named: [],
      names: [],
      materials: [],
      problems: [noPartsList(texts)],
    };
  }
  const place: Place = { file: list.name, line: null, column: null };
  return withQuantities(readPartsList(list, texts), quantities, place);
}

function noPartsList(texts: readonly SourceText[]): Problem {
  const names = texts.map(({ name }) => name).filter((name) => /^[^/]+\.csv$/i.test(name));
  const strangers = names.filter((name) => !LISTS.includes(plainName(name)));
  const hasDrawings = texts.some(({ name }) => isDrawingName(name));
  return errorAt(
    { file: "parts.csv", line: null, column: null },
    {
      code: "no-parts-list",
      found: "",
      expected:
        "a parts list named parts.csv with the columns part, qty, material, thickness and drawing or shape",
      mend:
        strangers.length === 1
          ? `Rename ${strangers[0]} to parts.csv if it is the parts list, or add a parts.csv`
          : `${hasDrawings ? "Let init make one from the drawings, add" : "Add"} a parts.csv to the job folder, or name a lone parts list`,
    },
  );
}

function withPieces(file: JobFile, pieces: number | undefined): JobFile {
  if (pieces === undefined) return file;
  const place = file.piecesPlace ?? inFile("job.yaml");
  return { ...file, pieces, piecesPlace: inColumn(place, "pieces, changed on screen") };
}

/** Reads the first of the named files that is there; more than one is not told apart, see strays. */
function readFirst<T>(
  texts: readonly SourceText[],
  names: readonly string[],
  read: (text: SourceText) => T,
): T | null {
  const text = names
    .map((wanted) => texts.find(({ name }) => plainName(name) === wanted))
    .find((one) => one !== undefined);
  return text === undefined ? null : read(text);
}

/** As a CSV or as a workbook; both are not told apart, see strays. */
function readList<T>(
  texts: readonly SourceText[],
  list: string,
  read: (text: SourceText) => T,
): T | null {
  return readFirst(texts, [list, list.replace(/csv$/, "xlsx")], read);
}

function tooMany({ parts, pieces, piecesPlace }: Job): readonly Problem[] {
  const copies = parts.reduce((sum, { quantity, spare }) => {
    const extra = spare?.by === "copies" ? spare.number : 0;
    return sum + quantity * pieces + extra;
  }, 0);
  const [most] = parts.toSorted((a: Part, b: Part) => b.quantity - a.quantity);
  if (copies <= MOST_COPIES || most === undefined) return [];
  const place = pieces > most.quantity ? piecesPlace : { ...most.place, column: "qty" };
  return [
    errorAt(place, {
      code: "too-many-copies",
      found: `${copies} copies of all parts together`,
      expected: `at most ${MOST_COPIES}`,
      mend: "Correct the quantity, or quote the order in smaller lots",
    }),
  ];
}

/** Files beside the parts list that nothing reads: a slip in a name would lose a cost in silence. */
function strayFiles(texts: readonly SourceText[], list: SourceText | null): readonly Problem[] {
  const read = [...JOB_FILES, ...LISTS];
  const names = texts.map(({ name }) => name);
  const twoJobFiles = JOB_FILES.every((wanted) => names.some((name) => plainName(name) === wanted));
  const strays = names
    .filter((name) => /^[^/]+\.(csv|ya?ml)$/i.test(name) && name !== list?.name)
    .filter((name) => !read.includes(plainName(name)) && !isPartsList(name))
    .filter((name) => ![FORM, SHOP_LOG].includes(plainName(name)));
  const lists = names.filter(isPartsList);
  return [
    ...(twoJobFiles ? [jobFileTwice()] : []),
    ...(lists.length > 1 ? [listTwice(lists, "one parts list", "parts-list-twice")] : []),
    ...LISTS.flatMap((wanted) => {
      const same = names.filter((name) => asCsvName(name) === wanted);
      const one = `one of ${wanted} and ${wanted.replace(/csv$/, "xlsx")}`;
      return same.length > 1 ? [listTwice(same, one, "list-twice")] : [];
    }),
    ...strays.map((name) =>
      warningAt(
        { file: name, line: null, column: null },
        {
          code: "file-not-used",
          found: name,
          expected: `one of parts.csv, ${read.join(", ")}`,
          mend: mendName(name, read, "leave it: it is not used in the estimate"),
        },
      ),
    ),
  ];
}

/** Which of the two is up to date only the person knows, and the other would give a wrong price. */
function listTwice(lists: readonly string[], expected: string, code: string): Problem {
  return errorAt(inFile(lists[0] ?? ""), {
    code,
    found: lists.join(" and "),
    expected,
    mend: "Keep the one that is up to date, and rename or remove the other",
  });
}

function jobFileTwice(): Problem {
  return errorAt(
    { file: "job.yml", line: null, column: null },
    {
      code: "job-file-twice",
      found: "job.yaml and job.yml",
      expected: "one job file",
      mend: "Remove one of the two",
    },
  );
}
