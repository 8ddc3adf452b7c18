import { writeCsv } from "../csv.ts";
import { FORM } from "../job/file-names.ts";
import { text as lineText } from "../job/cells.ts";
import { readRows } from "../job/rows.ts";
import type { SourceText } from "../job/types.ts";
import { checked, errorAt, inColumn, inFile, placeText, warningAt } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import { cellsOf, LOG_COLUMNS, numberText, OTHER_NAMES, runOf } from "./entries.ts";
import type { Entry, Taken } from "./entries.ts";

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
 * again. What it held of this job and day, and is emptied now, comes as a row without a time.
 * A log of fewer columns gets the later ones in its first line.
 * @param log null where there is none yet.
 * @param folder what tells the job from others in this log: its folder, seen from that of the log.
 * @returns how many rows came to it; the problems of a log that can not be read, is none, or holds
 * another job under this name and day, and of a form that says nothing.
 */
export function withTaken(
  log: SourceText | null,
  folder: string,
  done: string,
  taken: readonly Taken[],
): Checked<{ readonly text: string; readonly added: number }> {
  const before = log === null ? `${HEADER.join(",")}\n` : withHeader(ended(log.text));
  if (before === null) return { value: null, problems: log === null ? [] : [otherHeader(log)] };
  const held = log === null ? { value: [], problems: [] } : readLog(log);
  if (!held.value) return { value: null, problems: held.problems };
  // As it will be read back, or it would seem new each time.
  const job = lineText.read(folder) ?? folder;
  const entries = taken.map((row): Entry => ({ ...row, job, done }));
  const heldByKey = new Map(held.value.map((entry) => [keyOf(entry), entry]));
  const others = entries.flatMap((entry) => otherEstimate(entry, heldByKey.get(keyOf(entry))));
  if (others.length > 0) return checked({ text: before, added: 0 }, others.slice(0, 1));
  const timed = timedRuns(entries);
  const emptied = entries.filter(
    (row) => row.took === null && (heldByKey.get(keyOf(row))?.took ?? null) !== null,
  );
  const kept = entries.filter((row) => isWorthKeeping(row, timed) || emptied.includes(row));
  if (kept.length === 0 && !held.value.some((one) => one.job === job && one.done === done))
    return { value: null, problems: [nothingTaken()] };
  const known = new Set(held.value.map(lineOf));
  const added = kept.map((entry) => lineOf(entry)).filter((line) => !known.has(line));
  return checked({ text: before + added.join(""), added: added.length }, [
    ...emptied
      .filter((row) => !isNotedOtherwise(row, entries))
      .map((row) => withdrawn(row, heldByKey.get(keyOf(row))?.took ?? null)),
    ...(added.length === 0 ? [] : noticedBefore(entries, held.value).slice(0, 1)),
  ]);
}

/** Two folders of one name share a key, and the later would silently take the earlier's place. */
function otherEstimate(entry: Entry, held: Entry | undefined): readonly Problem[] {
  if (held === undefined || isSameEstimate(held, entry)) return [];
  return [
    errorAt(inColumn(entry.place, "estimated"), {
      code: "other-estimate",
      found: numberText(entry.estimated),
      expected: `the estimate that the log has for ${entry.item} of ${entry.job} on ${entry.done}, ${numberText(held.estimated)} ${held.unit} at ${placeText(held.place)}`,
      mend: "If it is another job, name its folder otherwise; if it is the same with a new estimate, first delete its rows of that day from the log",
    }),
  ];
}

/** Whether the run of a single operation is noted as a whole now, or the whole by its operations. */
function isNotedOtherwise(row: Entry, entries: readonly Entry[]): boolean {
  return entries.some(
    (one) =>
      one.took !== null &&
      runOf(one) === runOf(row) &&
      (one.operation === "all") !== (row.operation === "all"),
  );
}

/** As far as both have it: a form of before has fewer columns. */
function isSameEstimate(held: Entry, entry: Entry): boolean {
  const isOlder = held.halfFeedMin === null || entry.halfFeedMin === null;
  const bare = isOlder ? { halfFeedMin: null, twiceFeedMin: null } : {};
  const unnoted = (one: Entry): Entry => ({ ...one, ...bare, took: null, note: "" });
  return lineOf(unnoted(held)) === lineOf(unnoted(entry));
}

function withdrawn(row: Entry, before: number | null): Problem {
  return warningAt(inColumn(row.place, "took"), {
    code: "taken-back",
    found: "",
    expected: `the ${numberText(before)} ${row.unit} that the log had for ${row.item}, which count no more`,
    mend: "Fill it in and record again, if it was emptied by mistake",
  });
}

/**
 * A corrected day, or a folder that was moved or that an earlier log knew without its way, makes a new
 * entry, and the one of before goes on counting.
 */
function noticedBefore(entries: readonly Entry[], held: readonly Entry[]): readonly Problem[] {
  return entries.flatMap((entry) => {
    const same = held.find(
      (one) =>
        entry.took !== null &&
        one.took === entry.took &&
        (one.done !== entry.done || one.job !== entry.job) &&
        lastName(one.job) === lastName(entry.job) &&
        isSameEstimate({ ...one, done: entry.done, job: entry.job }, entry),
    );
    if (same === undefined) return [];
    const where = same.job === entry.job ? same.done : `${same.done} for ${same.job}`;
    return [
      warningAt(inColumn(entry.place, "took"), {
        code: same.job === entry.job ? "on-another-day" : "under-another-name",
        found: numberText(entry.took),
        expected: `another time than on ${where}: ${placeText(same.place)}, has the same of ${entry.item}`,
        mend: `If it is the same work, delete the rows of ${same.job} on ${same.done} from the log: both count`,
      }),
    ];
  });
}

function lastName(job: string): string {
  return job.slice(job.lastIndexOf("/") + 1);
}

/** With its line break. */
function lineOf(entry: Entry): string {
  const [, ...lines] = writeCsv(HEADER, [[entry.done, entry.job, ...cellsOf(entry)]]).split("\r\n");
  return lines.join("\n");
}

/** The first line of every log there was: null for what is none. */
function withHeader(text: string): string | null {
  const [first = "", ...rows] = text.split("\n");
  const begun = HEADER.indexOf(first.split(",").at(-1) ?? "") + 1;
  const isOurs = begun >= FEWEST && first === HEADER.slice(0, begun).join(",");
  return isOurs ? [HEADER.join(","), ...rows].join("\n") : null;
}

const HEADER = Object.values(LOG_COLUMNS).map((column) => column.name);

/** How many columns the first logs had. */
const FEWEST = HEADER.indexOf(LOG_COLUMNS.eachMin.name) + 1;

function timedRuns(taken: readonly Taken[]): ReadonlySet<string> {
  return new Set(taken.flatMap((row) => (row.took === null ? [] : [runOf(row)])));
}

/** All operations of a run that somebody timed: the whole is told apart by what each was to take. */
function isWorthKeeping(row: Taken, timed: ReadonlySet<string>): boolean {
  return row.took !== null || (row.what === "machine" && timed.has(runOf(row)));
}

function keyOf({ done, job, what, machine, item, operation }: Entry): string {
  return [done, job, what, machine, item, operation ?? ""].join("\n");
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

function nothingTaken(): Problem {
  return errorAt(inColumn(inFile(FORM), "took"), {
    code: "nothing-taken",
    found: "",
    expected:
      "what the job really took, in one row at least: the log has nothing of this job and day that emptied cells could take back",
    mend: "Fill in took where you noted it, and leave the other cells empty; to take back what was recorded, give the day that it was recorded with",
  });
}

function otherHeader({ name, text: written }: SourceText): Problem {
  const [first = ""] = written.split(/\r\n|\r|\n/, 1);
  return errorAt(
    { file: name, line: 1, column: null },
    {
      code: "other-log",
      found: first,
      expected: `a log that record wrote, which begins with ${HEADER.join(",")}`,
      mend: "Put the first line back, with commas, or name another file with --log",
    },
  );
}
