import { errorAt, inColumn } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import type { Column, Columns, ValuesOf } from "./rows.ts";
import { readRows } from "./rows.ts";
import { hidesRows } from "./doubts.ts";
import type { TableDoubt } from "./doubts.ts";
import type { CellFault } from "./table-checks.ts";
import type { SourceText, TableRow } from "./types.ts";
import { overridden, rowsHeld } from "./valid-rows.ts";

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
  readonly faults?: (values: ValuesOf<C>) => readonly CellFault[];
  /** What must be unique among rows of one date; the id unless it says otherwise. */
  readonly key?: (row: R) => string;
}

export interface TableRead<R extends TableRow> {
  readonly file: string;
  /** Whether there is such a file at all. */
  readonly present: boolean;
  /** Rows that hold. */
  readonly rows: readonly R[];
  /** Ids that are defined, also by rows with faults: an id among them is not unknown. */
  readonly ids: readonly string[];
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
  const rows = overridden(base?.rows ?? [], own?.rows ?? []);
  const faulty = sets.flatMap((set) => set?.faultyIds ?? []);
  return {
    file: kind.file,
    present: sets.some((set) => set !== null),
    rows,
    ids: [...rows.map(({ id }) => id), ...faulty],
    doubt: {
      unreadable: sets.some((set) => set?.doubt.unreadable === true),
      rows: sets.flatMap((set) => set?.doubt.rows ?? []),
    },
    problems: sets.flatMap((set) => set?.problems ?? []),
  };
}

/** `price-tables/sheets.csv` is `sheets.csv`. */
export function baseName(name: string): string {
  return name.slice(name.lastIndexOf("/") + 1).toLowerCase();
}

interface OneRead<R> {
  readonly rows: readonly R[];
  readonly faultyIds: readonly string[];
  readonly doubt: TableDoubt;
  readonly problems: readonly Problem[];
}

function readOne<C extends TableColumns, R extends TableRow>(
  kind: TableKind<C, R>,
  text: SourceText,
  date: string | null,
): OneRead<R> {
  const read = readRows(text, kind.columns);
  const judged = read.rows.map(({ values, place }) => ({
    row: kind.row(values, place),
    faults: (kind.faults?.(values) ?? []).map(({ column, ...fault }) =>
      errorAt(inColumn(place, column), fault),
    ),
  }));
  const sound = judged.filter(({ faults }) => faults.length === 0).map(({ row }) => row);
  const held = rowsHeld(sound, kind.key ?? (({ id }) => id), date);
  const soundIds = new Set(sound.map(({ id }) => id));
  const soundLines = new Set(sound.map(({ place }) => place.line));
  const faulty = read.texts.filter(({ place }) => !soundLines.has(place.line));
  return {
    rows: held.rows,
    faultyIds: read.named.filter((id) => !soundIds.has(id)),
    doubt: { unreadable: hidesRows(read.problems), rows: faulty.map(({ cells }) => cells) },
    problems: [...read.problems, ...judged.flatMap(({ faults }) => faults), ...held.problems],
  };
}
