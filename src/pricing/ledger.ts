import { FigureSheet } from "../figure.ts";
import type { FigureSpread, FigureUnit, Source } from "../figure.ts";
import type { Setting, Spread, TableRow } from "../job/types.ts";
import { Amount } from "../money.ts";
import { lineWord, placeText } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import type {
  CostLine,
  FinishMade,
  FixingUsed,
  LengthSawn,
  ShoppingItem,
  TaskDone,
} from "./types.ts";

/** What the steps of pricing write into, each its own corner; it lives for one estimate. */
export interface Ledger {
  readonly sheet: FigureSheet;
  readonly costs: CostLine[];
  readonly shopping: ShoppingItem[];
  /** What is worth knowing of a price that stands. */
  readonly remarks: Problem[];
  readonly making: {
    readonly finishes: FinishMade[];
    readonly fixings: FixingUsed[];
    readonly lengths: LengthSawn[];
    readonly tasks: TaskDone[];
  };
}

export function newLedger(): Ledger {
  const making = { finishes: [], fixings: [], lengths: [], tasks: [] };
  return { sheet: new FigureSheet(), costs: [], shopping: [], remarks: [], making };
}

/** The cell of a table row under one column. */
export function cell(row: TableRow, column: string): Source {
  return { kind: "cell", place: { ...row.place, column }, cited: row.source };
}

/** A cell of the job's own files. */
export function jobCell(place: Place, column: string): Source {
  return { kind: "cell", place: { ...place, column }, cited: null };
}

export function settingSource({ place, cited }: Setting): Source {
  return { kind: "cell", place, cited };
}

/** Adds a given figure unless it is there: rows are shared by many figures. */
export function givenOnce(
  sheet: FigureSheet,
  id: string,
  label: string,
  unit: FigureUnit,
  value: Amount | number,
  source: Source,
  spread: FigureSpread | null = null,
): string {
  return sheet.has(id) ? id : sheet.given(id, label, unit, value, source, spread);
}

/** Null where the row says nothing but the likely value. */
export function spreadOf({ low, likely, high }: Spread): FigureSpread | null {
  return low === likely && high === likely
    ? null
    : { low: new Amount(low), high: new Amount(high) };
}

/**
 * A step of a figure's id: `Acrylic cast 1.5` becomes `acrylic_cast_1,5`. Names that differ in more
 * than case have different slugs, so that no two figures can meet under one id.
 */
export function slug(text: string): string {
  return Array.from(text.trim().toLowerCase(), slugOf).join("");
}

/** Slugs for names that may occur twice: the second `post` becomes `post_2`. */
export function uniqueSlugs(names: readonly string[]): readonly string[] {
  const used = new Set<string>();
  return names.map((name) => {
    const first = slug(name);
    let chosen = first;
    for (let n = 2; used.has(chosen); n += 1) chosen = `${first}_${n}`;
    used.add(chosen);
    return chosen;
  });
}

/** Each place once, in the order in which they first come. */
export function distinct(places: readonly Place[]): readonly Place[] {
  return [...new Map(places.map((place) => [placeText(place), place])).values()];
}

function slugOf(character: string): string {
  if (/[\p{L}\p{N}-]/u.test(character)) return character;
  if (character === " ") return "_";
  return character === "." ? "," : `~${character.codePointAt(0)?.toString(16)}~`;
}

/** `the file.csv, line 3` of a row, for the shopping list. */
export function rowText({ file, line }: Place): string {
  return line === null ? file : `${file}, ${lineWord(file)} ${line}`;
}
