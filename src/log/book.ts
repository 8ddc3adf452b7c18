import { writeCsv } from "../csv.ts";
import { text as lineText } from "../job/cells.ts";
import { readRows } from "../job/rows.ts";
import type { SourceText } from "../job/types.ts";
import { checked, errorAt, inColumn, placeText, warningAt } from "../problem.ts";
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
 * @param log null where there is none yet.
 * @returns how many rows came to it; the problems of a log that can not be read, is none, or holds
 * another job under this name and day.
 */
export function withTaken(
  log: SourceText | null,
  folder: string,
  done: string,
  taken: readonly Taken[],
): Checked<{ readonly text: string; readonly added: number }> {
  const before = log === null ? `${HEADER.join(",")}\n` : ended(log.text);
  if (log !== null && !before.startsWith(`${HEADER.join(",")}\n`))
    return { value: null, problems: [otherHeader(log)] };
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
  const known = new Set(held.value.map(lineOf));
  const added = kept.map((entry) => lineOf(entry)).filter((line) => !known.has(line));
  return checked({ text: before + added.join(""), added: added.length }, [
    ...emptied
      .filter((row) => !isNotedOtherwise(row, entries))
      .map((row) => withdrawn(row, heldByKey.get(keyOf(row))?.took ?? null)),
    ...(added.length === 0 ? [] : onAnotherDay(entries, held.value).slice(0, 1)),
  ]);
}

/** Two folders of one name share a key, and the later would silently take the earlier's place. */
function otherEstimate(entry: Entry, held: Entry | undefined): readonly Problem[] {
  if (held === undefined || lineOf(unnoted(held)) === lineOf(unnoted(entry))) return [];
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

function unnoted(entry: Entry): Entry {
  return { ...entry, took: null, note: "" };
}

function withdrawn(row: Entry, before: number | null): Problem {
  return warningAt(inColumn(row.place, "took"), {
    code: "taken-back",
    found: "",
    expected: `the ${numberText(before)} ${row.unit} that the log had for ${row.item}, which count no more`,
    mend: "Fill it in and record again, if it was emptied by mistake",
  });
}

/** A corrected day makes a new entry, and the one of the wrong day goes on counting. */
function onAnotherDay(entries: readonly Entry[], held: readonly Entry[]): readonly Problem[] {
  return entries.flatMap((entry) => {
    const same = held.find(
      (one) =>
        entry.took !== null &&
        one.done !== entry.done &&
        lineOf({ ...one, done: entry.done }) === lineOf(entry),
    );
    if (same === undefined) return [];
    return [
      warningAt(inColumn(entry.place, "took"), {
        code: "on-another-day",
        found: numberText(entry.took),
        expected: `another time than on ${same.done}: ${placeText(same.place)}, has the same of ${entry.item}`,
        mend: `If the day was corrected, delete the rows of ${entry.job} on ${same.done} from the log: both count`,
      }),
    ];
  });
}

/** With its line break. */
function lineOf(entry: Entry): string {
  const [, ...lines] = writeCsv(HEADER, [[entry.done, entry.job, ...cellsOf(entry)]]).split("\r\n");
  return lines.join("\n");
}

const HEADER = Object.values(LOG_COLUMNS).map((column) => column.name);

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
