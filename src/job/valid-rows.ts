import { errorAt, inColumn, warningAt } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { eitherOf, plainName } from "../names.ts";
import type { TableRow } from "./types.ts";

/** Which rows of a table hold on a day. */

export interface RowsHeld<R> {
  readonly rows: readonly R[];
  readonly problems: readonly Problem[];
}

/**
 * For each key the row with the latest `valid_from` that is not after `date`; without a date the
 * latest of all. Rows stand in the order in which their keys first appear, so that the steps of a
 * finish keep their order when one of them gets a new row.
 * @param keyOf what must be unique among rows of one date: the id, for most tables.
 */
export function rowsHeld<R extends TableRow>(
  rows: readonly R[],
  keyOf: (row: R) => string,
  date: string | null,
): RowsHeld<R> {
  const byKey = new Map<string, R | null>();
  const seen = new Map<string, R>();
  const problems: Problem[] = [];
  for (const row of rows) {
    const key = plainName(keyOf(row));
    const dated = `${key}\n${row.validFrom}`;
    const twin = seen.get(dated);
    if (twin) problems.push(rowTwice(row, twin));
    seen.set(dated, twin ?? row);
    const held = byKey.get(key) ?? null;
    byKey.set(key, later(held, date === null || row.validFrom <= date ? row : null));
  }
  const kept = [...byKey.values()].filter((row) => row !== null);
  return { rows: kept, problems: [...problems, ...notYet(rows, kept, date)] };
}

/**
 * Every id of the job's own rows replaces all built-in rows of that id.
 * @param adds whether a row of the job only comes beside the others.
 */
export function overridden<R extends TableRow>(
  builtIn: readonly R[],
  ofJob: readonly R[],
  adds: (row: R) => boolean,
): readonly R[] {
  const own = new Set(ofJob.filter((row) => !adds(row)).map(({ id }) => plainName(id)));
  return [...builtIn.filter(({ id }) => !own.has(plainName(id))), ...ofJob];
}

/** Built-in rows for what no row of the job answers: the job's own go before them under any id. */
export function unanswered<R extends TableRow>(
  builtIn: readonly R[],
  ofJob: readonly R[],
  answersFor: ((row: R) => string) | undefined,
): readonly R[] {
  if (answersFor === undefined) return builtIn;
  const own = new Set(ofJob.map((row) => plainName(answersFor(row))));
  return builtIn.filter((row) => !own.has(plainName(answersFor(row))));
}

/**
 * Of two rows of one table for the same thing, one would be passed over in silence.
 * @param apart rows that differ in this are not rivals.
 */
export function answersTwice<R extends TableRow>(
  rows: readonly R[],
  answersFor: ((row: R) => string) | undefined,
  apart: (row: R) => string = () => "",
): readonly Problem[] {
  if (answersFor === undefined) return [];
  const first = new Map<string, R>();
  return rows.flatMap((row) => {
    const key = `${plainName(answersFor(row))}\n${apart(row)}`;
    const twin = first.get(key);
    if (twin === undefined) first.set(key, row);
    if (twin === undefined) return [];
    return [
      errorAt(inColumn(row.place, "id"), {
        code: "answers-twice",
        found: row.id,
        expected: `one row for ${answersFor(row)}; "${twin.id}" in line ${twin.place.line} is for the same`,
        mend: `Remove one of the two, or give both the id "${twin.id}" and the newer one its own valid_from`,
      }),
    ];
  });
}

function later<R extends TableRow>(held: R | null, next: R | null): R | null {
  if (held === null || next === null) return held ?? next;
  return next.validFrom > held.validFrom ? next : held;
}

function rowTwice(row: TableRow, twin: TableRow): Problem {
  return errorAt(inColumn(row.place, "id"), {
    code: "row-twice",
    found: row.id,
    expected: `each id once for each valid_from; line ${twin.place.line} has it from ${row.validFrom} already`,
    mend: "Remove one of the two rows, or give the newer one its own valid_from",
  });
}

/** One warning for each file whose entries all begin later: else they would vanish in silence. */
function notYet<R extends TableRow>(
  rows: readonly R[],
  kept: readonly R[],
  date: string | null,
): readonly Problem[] {
  const held = new Set(kept.map(({ id }) => plainName(id)));
  const waiting = rows.filter(({ id }) => !held.has(plainName(id)));
  const [first] = waiting;
  if (first === undefined || date === null) return [];
  const earliest = waiting.map(({ validFrom }) => validFrom).reduce((a, b) => (b < a ? b : a));
  return [
    warningAt(inColumn(first.place, "valid_from"), {
      code: "not-yet-valid",
      found: earliest,
      expected: `rows for ${listed(waiting)} that hold on ${date}, the date of the job`,
      mend: "Add a row with the earlier price, or change the date of the job",
    }),
  ];
}

function listed(rows: readonly TableRow[]): string {
  return eitherOf(
    rows.map(({ id }) => id),
    4,
  );
}
