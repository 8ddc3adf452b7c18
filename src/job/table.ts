import { errorAt, inColumn } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import type { Column, Columns, Readable, ValuesOf } from "./rows.ts";
import { readRows } from "./rows.ts";
import type { TableDoubt } from "./doubts.ts";
import { newRowNotes } from "./new-rows.ts";
import type { CellFault } from "./table-checks.ts";
import type { SourceText, TableRow } from "./types.ts";
import { answersTwice, overridden, rowsHeld, unanswered } from "./valid-rows.ts";

/** Reading one table of the set, whichever it is. */

/** Columns that every table has. */
interface TableColumns extends Columns {
  readonly id: Column<string>;
  readonly validFrom: Column<string>;
  readonly source: Column<string>;
}

export interface TableKind<C extends TableColumns, R extends TableRow> {
  /** `sheets.csv`. */
  readonly file: string;
  readonly columns: C;
  /** The row's values as the rest of the program knows them. */
  readonly row: (values: ValuesOf<C>, place: Place) => R;
  readonly faults?: (values: Readable<ValuesOf<C>>) => readonly CellFault[];
  /** What must be unique among rows of one date; the id unless it says otherwise. */
  readonly key?: (row: R) => string;
  /** A row of the job that leaves the built-in rows of its id as they are. */
  readonly adds?: (row: R) => boolean;
  /** Only certain ids mean anything: another one is a fault of its own. */
  readonly fixedIds?: true;
  /** Whether two rows are of one thing, whatever their ids. */
  readonly same?: (a: R, b: R) => boolean;
  /** What only one row can answer for, whatever its id, in words. */
  readonly answersFor?: (row: R) => string;
  /** Rows of one table that differ in this may answer for the same: which counts is known later. */
  readonly apart?: (row: R) => string;
}

export interface TableRead<R extends TableRow> {
  readonly file: string;
  /** Whether there is such a file at all. */
  readonly present: boolean;
  /** Rows that hold. */
  readonly rows: readonly R[];
  /** Ids that are defined, also by rows with faults: an id among them is not unknown. */
  readonly ids: readonly string[];
  /** The cells of all rows as they stand, by column name with blanks: `pack price`. */
  readonly texts: readonly RowText[];
  /** Of these the rows with faults. */
  readonly faulty: readonly RowText[];
  /** What of it could not be read. */
  readonly doubt: TableDoubt;
  readonly problems: readonly Problem[];
}

/** The texts by which a table set is read: its own, and the job's that go before them. */
export interface TableTexts {
  readonly builtIn: readonly SourceText[];
  readonly ofJob: readonly SourceText[];
  /** ISO 8601 day on which rows must hold, or null for the newest. */
  readonly date: string | null;
}

export function readTable<C extends TableColumns, R extends TableRow>(
  kind: TableKind<C, R>,
  { builtIn, ofJob, date }: TableTexts,
): TableRead<R> {
  const sets = [builtIn, ofJob].map((texts) => {
    const text = texts.find(({ name }) => baseName(name) === kind.file);
    return text === undefined ? null : readOne(kind, text, date);
  });
  const [base, own] = sets;
  const ofBase = unanswered(base?.rows ?? [], own?.rows ?? [], kind.answersFor);
  const rows = overridden(ofBase, own?.rows ?? [], kind.adds ?? (() => false));
  const faulty = sets.flatMap((set) => set?.faultyIds ?? []);
  return {
    file: kind.file,
    present: sets.some((set) => set !== null),
    rows,
    ids: [...rows.map(({ id }) => id), ...faulty],
    texts: sets.flatMap((set) => set?.texts ?? []),
    faulty: sets.flatMap((set) => set?.faulty ?? []),
    doubt: {
      unreadable: sets.some((set) => set?.doubt.unreadable === true),
      rows: sets.flatMap((set) => set?.doubt.rows ?? []),
    },
    problems: [
      ...sets.flatMap((set) => set?.problems ?? []),
      ...(kind.fixedIds ? [] : newRowNotes(ofBase, own?.rows ?? [], kind.same)),
    ],
  };
}

/** A row of a file as it stands. */
export interface RowText {
  readonly place: Place;
  readonly cells: Readonly<Record<string, string>>;
}

/** `price-tables/sheets.csv` is `sheets.csv`. */
export function baseName(name: string): string {
  return name.slice(name.lastIndexOf("/") + 1).toLowerCase();
}

interface OneRead<R> {
  readonly rows: readonly R[];
  readonly faultyIds: readonly string[];
  readonly texts: readonly RowText[];
  readonly faulty: readonly RowText[];
  readonly doubt: TableDoubt;
  readonly problems: readonly Problem[];
}

function readOne<C extends TableColumns, R extends TableRow>(
  kind: TableKind<C, R>,
  text: SourceText,
  date: string | null,
): OneRead<R> {
  const read = readRows(text, kind.columns);
  const faults = read.readable.flatMap(({ values, place }) =>
    (kind.faults?.(values) ?? []).map(({ column, ...fault }) =>
      errorAt(inColumn(place, column), fault),
    ),
  );
  const atFault = new Set(faults.map(({ line }) => line));
  const sound = read.rows
    .filter(({ place }) => !atFault.has(place.line))
    .map(({ values, place }) => kind.row(values, place));
  const held = rowsHeld(sound, kind.key ?? (({ id }) => id), date);
  const soundIds = new Set(sound.map(({ id }) => id));
  const soundLines = new Set(sound.map(({ place }) => place.line));
  const faulty = read.texts.filter(({ place }) => !soundLines.has(place.line));
  return {
    rows: held.rows,
    faultyIds: read.named.filter((id) => !soundIds.has(id)),
    texts: read.texts,
    faulty,
    doubt: { unreadable: read.unreadable, rows: faulty.map(({ cells }) => cells) },
    problems: [
      ...read.problems,
      ...faults,
      ...held.problems,
      ...answersTwice(held.rows, kind.answersFor, kind.apart),
    ],
  };
}
