import { writeCsv } from "../csv.ts";
import { readRows } from "../job/rows.ts";
import type { SourceText } from "../job/types.ts";
import { checked, errorAt } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import { cellsOf, LOG_COLUMNS, OTHER_NAMES, runOf } from "./entries.ts";
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
  const before = log === null ? `${HEADER.join(",")}\n` : ended(log.text);
  if (log !== null && !before.startsWith(`${HEADER.join(",")}\n`))
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
  const [, ...lines] = writeCsv(HEADER, [[entry.done, entry.job, ...cellsOf(entry)]]).split("\r\n");
  return lines.join("\n");
}

const HEADER = Object.values(LOG_COLUMNS).map((column) => column.name);

/** All operations of a run that somebody timed: the whole is told apart by what each was to take. */
function worthKeeping(taken: readonly Taken[]): readonly Taken[] {
  const timed = new Set(taken.flatMap((row) => (row.took === null ? [] : [runOf(row)])));
  return taken.filter(
    (row) => row.took !== null || (row.what === "machine" && timed.has(runOf(row))),
  );
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
