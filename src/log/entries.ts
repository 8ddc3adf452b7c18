import { writeCsv } from "../csv.ts";
import {
  choice,
  day,
  mmUpTo,
  name,
  notNegativeUpTo,
  positiveUpTo,
  text,
  wholeUpTo,
} from "../job/cells.ts";
import { MOST } from "../job/limits.ts";
import { optional, readRows, required } from "../job/rows.ts";
import type { Operation, SourceText } from "../job/types.ts";
import { checked, errorAt, inColumn } from "../problem.ts";
import type { Checked, Place, Problem } from "../problem.ts";

/** What a job was estimated to take, and took: rows of the form that is filled in, and of the log. */

export interface Planned {
  readonly what: "machine" | "sheets" | "paint" | "hand work";
  /** Material and thickness, sheet, paint or task. */
  readonly item: string;
  /** Of the machine; `all` is the whole run of several. */
  readonly operation: Operation | "all" | null;
  readonly unit: string;
  readonly estimated: number;
  /** Id in the machines table; empty for what is no machine's work. */
  readonly machine: string;
  readonly material: string;
  readonly thicknessMm: number | null;
  /** Of the estimated minutes those along lines at the feed. */
  readonly workingMin: number | null;
  /** The feed and passes that were estimated with. */
  readonly feedMmS: number | null;
  readonly passes: number | null;
}

/** Null in `took` where nobody noted it. */
export interface Taken extends Planned {
  readonly took: number | null;
  readonly note: string;
  readonly place: Place;
}

export interface Entry extends Taken {
  /** ISO 8601 day on which the job was made. */
  readonly done: string;
  readonly job: string;
}

const TAKEN_COLUMNS = {
  what: required("what", choice(["machine", "sheets", "paint", "hand work"])),
  item: required("item", name),
  operation: optional("operation", choice(["cut", "score", "engrave", "all"]), null),
  estimated: required("estimated", notNegativeUpTo(MOST.counted)),
  unit: required("unit", text),
  took: optional("took", positiveUpTo(MOST.counted), null),
  note: optional("note", text, ""),
  machine: optional("machine", name, ""),
  material: optional("material", name, ""),
  thicknessMm: optional("thickness_mm", mmUpTo(MOST.thicknessMm), null),
  workingMin: optional("working_min", notNegativeUpTo(MOST.counted), null),
  feedMmS: optional("feed_mm_s", positiveUpTo(MOST.speedMmS), null),
  passes: optional("passes", wholeUpTo(MOST.passes), null),
};

export const LOG_COLUMNS = {
  done: required("done", day),
  job: required("job", name),
  ...TAKEN_COLUMNS,
};

const FORM_HEADER = Object.values(TAKEN_COLUMNS).map((column) => column.name);
const LOG_HEADER = Object.values(LOG_COLUMNS).map((column) => column.name);

/** The form to fill in: what was estimated, with `took` and `note` left empty. */
export function formText(planned: readonly Planned[]): string {
  return writeCsv(
    FORM_HEADER,
    planned.map((row) => cellsOf({ ...row, took: null, note: "" })),
  );
}

/**
 * The form as filled in.
 * @returns problems where nothing was, or a run and its single operations both were.
 */
export function readForm(form: SourceText): Checked<readonly Taken[]> {
  const { rows, problems } = readRows(form, TAKEN_COLUMNS, OTHER_NAMES);
  const taken = rows.map(({ values, place }): Taken => ({ ...values, place }));
  const empty = problems.length === 0 && taken.every(({ took }) => took === null);
  return checked(taken, [
    ...problems,
    ...takenTwice(taken),
    ...(empty ? [nothingTaken(form.name)] : []),
  ]);
}

/** The log, oldest day first; of two entries for the same thing, day and job the later one holds. */
export function readLog(log: SourceText): Checked<readonly Entry[]> {
  const { rows, problems } = readRows(log, LOG_COLUMNS, OTHER_NAMES);
  const entries = new Map<string, Entry>();
  for (const { values, place } of rows) {
    const entry: Entry = { ...values, place };
    entries.set(keyOf(entry), entry);
  }
  const byDay = [...entries.values()].toSorted((a, b) => compare(a.done, b.done));
  return checked(byDay, problems);
}

/**
 * The log with what one job took, and nothing of it lost: what holds there already is not written
 * again.
 * @param log null where there is none yet.
 * @returns how many rows came to it; the problems of a log that can not be read, or is none.
 */
export function withTaken(
  log: SourceText | null,
  job: string,
  done: string,
  taken: readonly Taken[],
): Checked<{ readonly text: string; readonly added: number }> {
  const before = log === null ? `${LOG_HEADER.join(",")}\n` : ended(log.text);
  if (log !== null && !before.startsWith(`${LOG_HEADER.join(",")}\n`))
    return { value: null, problems: [otherHeader(log)] };
  const held = log === null ? { value: [], problems: [] } : readLog(log);
  if (!held.value) return { value: null, problems: held.problems };
  const known = new Set(held.value.map(lineOf));
  const added = worthKeeping(taken)
    .map((row) => lineOf({ ...row, job, done }))
    .filter((line) => !known.has(line));
  return checked({ text: before + added.join(""), added: added.length }, []);
}

/** With its line break. */
function lineOf(entry: Entry): string {
  const [, ...lines] = writeCsv(LOG_HEADER, [[entry.done, entry.job, ...cellsOf(entry)]]).split(
    "\r\n",
  );
  return lines.join("\n");
}

/** All operations of a run that somebody timed: the whole is told apart by what each was to take. */
function worthKeeping(taken: readonly Taken[]): readonly Taken[] {
  const timed = new Set(taken.flatMap((row) => (row.took === null ? [] : [runOf(row)])));
  return taken.filter((row) => row.took !== null || (isRun(row) && timed.has(runOf(row))));
}

function isRun({ what }: Taken): boolean {
  return what === "machine";
}

function runOf({ what, machine, item }: Taken): string {
  return [what, machine, item].join("\n");
}

function keyOf({ done, job, what, machine, item, operation }: Entry): string {
  return [done, job, what, machine, item, operation ?? ""].join("\n");
}

type Written = Planned & Pick<Taken, "took" | "note">;

function cellsOf(row: Written): readonly string[] {
  const cells: Readonly<Record<keyof typeof TAKEN_COLUMNS, string>> = {
    what: row.what,
    item: row.item,
    operation: row.operation ?? "",
    estimated: numberText(row.estimated),
    unit: row.unit,
    took: numberText(row.took),
    note: row.note,
    machine: row.machine,
    material: row.material,
    thicknessMm: numberText(row.thicknessMm),
    workingMin: numberText(row.workingMin),
    feedMmS: numberText(row.feedMmS),
    passes: numberText(row.passes),
  };
  return Object.values(cells);
}

/** A thousandth of a minute, or of a mm/s, is more than anybody notes. */
const DECIMALS = 1000;

function numberText(value: number | null): string {
  return value === null ? "" : String(Math.round(value * DECIMALS) / DECIMALS);
}

/** With a line break at its end, and breaks of one kind. */
function ended(text: string): string {
  const plain = text.replace(/\r\n?/g, "\n");
  return plain === "" || plain.endsWith("\n") ? plain : `${plain}\n`;
}

function compare(a: string, b: string): number {
  if (a === b) return 0;
  return a < b ? -1 : 1;
}

const OTHER_NAMES: Readonly<Record<string, string>> = {
  actual: "took",
  real: "took",
  date: "done",
};

function takenTwice(taken: readonly Taken[]): readonly Problem[] {
  const single = new Set(
    taken.filter((row) => row.took !== null && row.operation !== "all").map(runOf),
  );
  return taken
    .filter((row) => row.operation === "all" && row.took !== null && single.has(runOf(row)))
    .map((row) =>
      errorAt(inColumn(row.place, "took"), {
        code: "taken-twice",
        found: numberText(row.took),
        expected: `the minutes of the whole run, or those of its operations, but not both for ${row.item}`,
        mend: "Empty the cells of the way that you noted less well",
      }),
    );
}

function nothingTaken(file: string): Problem {
  return errorAt(inColumn({ file, line: null, column: null }, "took"), {
    code: "nothing-taken",
    found: "",
    expected: "what the job really took, in one row at least",
    mend: "Fill in took where you noted it, and leave the other cells empty",
  });
}

function otherHeader({ name, text: written }: SourceText): Problem {
  const [first = ""] = written.split(/\r\n|\r|\n/, 1);
  return errorAt(
    { file: name, line: 1, column: null },
    {
      code: "other-log",
      found: first,
      expected: `a log that record wrote, which begins with ${LOG_HEADER.join(",")}`,
      mend: "Put the first line back, with commas, or name another file with --log",
    },
  );
}
