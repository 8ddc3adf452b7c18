import type { Problem } from "../problem.ts";
import { nearest, plainName, sameText } from "../names.ts";
import { length } from "./cells.ts";
import { asCsvName } from "./file-names.ts";

/**
 * What could not be read. Nothing is called missing that may stand there: one slip in a table must
 * not be followed by a complaint about every part.
 */

type Cells = Readonly<Record<string, string>>;

/** A table of the set, with the job's own rows for it. */
export interface TableDoubt {
  /** Which rows some file has is not known. */
  readonly unreadable: boolean;
  /** Cells of the rows with errors, by column name with blanks: `thickness mm`. */
  readonly rows: readonly Cells[];
}

export interface Doubts {
  /** By file: `sheets.csv`. */
  readonly tables: ReadonlyMap<string, TableDoubt>;
  /** Every error of the job's own files. */
  readonly errors: readonly Problem[];
  /** Whether some part of the list, or its drawing, could not be read. */
  readonly parts: boolean;
}

export const NO_DOUBTS: Doubts = { tables: new Map(), errors: [], parts: false };

/** Whether a row with these cells may be one that could not be read. */
export function mayHold({ tables }: Pick<Doubts, "tables">, file: string, wanted: Wanted): boolean {
  const doubt = tables.get(file);
  return doubt !== undefined && mayBeIn(doubt, wanted);
}

/** An empty or unreadable cell may have been meant to hold anything. */
export function mayBeIn({ unreadable, rows }: TableDoubt, wanted: Wanted): boolean {
  const meant = (cells: Cells): boolean =>
    Object.entries(wanted).every(([column, value]) => mayMean(cells[column] ?? "", value));
  return unreadable || rows.some(meant);
}

/** Texts, or mm, by column. */
type Wanted = Readonly<Record<string, string | number>>;

function mayMean(cell: string, value: string | number): boolean {
  if (cell === "") return true;
  if (typeof value === "string") return sameText(cell, value);
  const mm = length.read(cell);
  return mm === null || Math.abs(mm - value) <= SAME_LENGTH_MM;
}

/** Lengths this near are the same, mm. */
const SAME_LENGTH_MM = 0.001;

/** Whether a list of the job has an error. @param file in lower case, `lengths.csv`. */
export function listInDoubt({ errors }: Doubts, file: string): boolean {
  return errors.some(({ file: name }) => asCsvName(name) === file);
}

/** Whether the job file has an error as a whole or within an entry: `price`. */
export function jobFileInDoubt({ errors }: Doubts, entry: string): boolean {
  return errors.some(
    ({ file, column, code, found }) =>
      /^job\.ya?ml$/.test(plainName(file)) &&
      (column === null ||
        column.startsWith(entry) ||
        (code === "unknown-key" && nearest(found, [entry]) !== null)),
  );
}
