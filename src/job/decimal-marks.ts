import type { CsvTable, Separator } from "../csv.ts";
import type { Fault, Place } from "../problem.ts";
import { hasDecimalComma, hasDecimalPoint, readingsOf, withPoint } from "./numerals.ts";
import type { Readings } from "./numerals.ts";
import type { Column } from "./rows.ts";

/** Which mark the numbers of a file have before their decimals, told by the numbers themselves. */

/** A column and where it stands in the table at hand. */
export interface Field {
  readonly field: string;
  readonly column: Column<unknown>;
  readonly key: string;
  readonly present: boolean;
}

export interface Marks {
  /** The first cell that tells that numbers have decimal commas; null when they have points. */
  readonly comma: Place | null;
  /** Whether no number tells, so that a point may part thousands. */
  readonly unknown: boolean;
  readonly separator: Separator;
}

/**
 * A file that is parted by commas has points. Cells of several numbers tell only where no other
 * does: their commas may part numbers, and points in them are the way out of that.
 */
export function marksOf(table: CsvTable, fields: readonly Field[]): Marks {
  const { separator } = table;
  if (separator === ",") return { comma: null, unknown: false, separator };
  const ofCells = told(table, fields, ({ kind }, cell) => (kind.numeric === true ? [cell] : []));
  const { commas, points } =
    ofCells.commas.length + ofCells.points > 0 ? ofCells : told(table, fields, severalIn);
  const comma = commas.length > points ? (commas[0] ?? null) : null;
  return { comma, unknown: commas.length + points === 0, separator };
}

type NumbersIn = (column: Column<unknown>, cell: string) => readonly string[];

/** Where decimal commas are, and how many decimal points. */
function told(
  { rows, file }: CsvTable,
  fields: readonly Field[],
  numbersIn: NumbersIn,
): { readonly commas: readonly Place[]; readonly points: number } {
  const commas: Place[] = [];
  let points = 0;
  for (const { line, cells } of rows)
    for (const { key, column } of fields)
      for (const number of numbersIn(column, cells[key] ?? "")) {
        if (hasDecimalComma(number)) commas.push({ file, line, column: column.name });
        if (hasDecimalPoint(number)) points += 1;
      }
  return { commas, points };
}

/** None of a cell whose commas may part its numbers. */
function severalIn({ kind }: Column<unknown>, cell: string): readonly string[] {
  const isPlain = kind.pointed !== undefined && kind.pointed(cell) !== null;
  return isPlain ? (cell.match(NUMBERS) ?? []) : [];
}

const NUMBERS = /[\d.,]+/g;

/** A cell with points for its decimal commas, or what keeps it from being read. */
export function plainText(cell: string, column: Column<unknown>, marks: Marks): string | Fault {
  const { numeric, pointed } = column.kind;
  if (numeric !== true && pointed === undefined) return cell;
  if (marks.comma !== null) {
    const isMixed = numeric === true ? /^\d*\.\d/.test(cell) : twofoldIn(cell, column) !== null;
    if (isMixed) return mixedMarks(cell, column, marks.comma);
    return (numeric === true ? withPoint(cell) : pointed?.(cell)) ?? cell;
  }
  const twofold = marks.unknown ? twofoldIn(cell, column) : null;
  return twofold === null ? cell : thousandsOrDecimals(cell, column, twofold, marks.separator);
}

/** The first number of a cell that may be thousands, where the cell could be read either way. */
function twofoldIn(cell: string, column: Column<unknown>): Readings | null {
  const { numeric, pointed } = column.kind;
  const numbers = numeric === true ? [cell] : (cell.match(NUMBERS) ?? []);
  for (const number of numbers) {
    const readings = readingsOf(number);
    if (readings === null) continue;
    const either = [number, readings.thousands].map((text) => cell.replace(number, text));
    if (either.every((text) => column.read(pointed?.(text) ?? text) !== null)) return readings;
  }
  return null;
}

/** `1.200` among decimal commas may be a thousand times `1.2`. */
function mixedMarks(found: string, { kind }: Column<unknown>, comma: Place): Fault {
  const there = `line ${comma.line}, ${comma.column ?? ""}`;
  return {
    code: "mixed-decimal-marks",
    found,
    expected: `${kind.expected}, with a decimal comma as in ${there}`,
    mend: "Write one decimal mark in the whole file, and no marks between thousands",
  };
}

/** Lists with semicolons or tabs come from where a point parts thousands. */
function thousandsOrDecimals(
  found: string,
  { kind }: Column<unknown>,
  { thousands, decimal }: Readings,
  separator: Separator,
): Fault {
  const list = separator === "\t" ? "tabs" : "semicolons";
  return {
    code: "thousands-or-decimals",
    found,
    expected: `${kind.expected}; in a list with ${list} a point may part thousands, and no other number here tells`,
    mend: `Write ${thousands} if thousands are meant, or ${decimal}`,
  };
}
