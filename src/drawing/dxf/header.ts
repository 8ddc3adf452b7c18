import { errorAt, warningAt } from "../../problem.ts";
import type { Fault, Place, Problem } from "../../problem.ts";
import { MM_PER_INCH } from "../../units.ts";
import { groupLine } from "./records.ts";
import type { DxfRecord } from "./records.ts";

/** The first value of a header variable, and its line. */
export interface Variable {
  readonly text: string;
  readonly line: number;
}

/** Variables by name: `$INSUNITS`. */
export type Header = ReadonlyMap<string, Variable>;

const NAME = 9;

export function readHeader(record: DxfRecord): Header {
  const header = new Map<string, Variable>();
  for (const [index, code] of record.codes.entries()) {
    const text = record.values[index + 1];
    if (code !== NAME || text === undefined || record.codes[index + 1] === NAME) continue;
    const name = (record.values[index] ?? "").toUpperCase();
    header.set(name, { text, line: groupLine(record, index + 1) });
  }
  return header;
}

/** DXF reference, `$INSUNITS`: those that something to cut may be drawn in. */
const UNITS: ReadonlyMap<number, { readonly name: string; readonly mm: number }> = new Map([
  [1, { name: "inches", mm: MM_PER_INCH }],
  [2, { name: "feet", mm: 12 * MM_PER_INCH }],
  [4, { name: "mm", mm: 1 }],
  [5, { name: "cm", mm: 10 }],
  [6, { name: "m", mm: 1000 }],
  [14, { name: "dm", mm: 100 }],
]);

const UNITLESS = 0;
/** `$MEASUREMENT` */
const ENGLISH = "0";

/** @returns mm in one unit of the drawing, and what had to be guessed. */
export function readUnit(file: string, header: Header): { mm: number; problems: Problem[] } {
  const said = header.get("$INSUNITS");
  const place: Place = { file, line: said?.line ?? null, column: "$INSUNITS" };
  const code = said === undefined ? UNITLESS : wholeNumber(said.text);
  const unit = UNITS.get(code);
  if (unit !== undefined) return { mm: unit.mm, problems: [] };
  if (code !== UNITLESS) return { mm: 1, problems: [errorAt(place, otherUnit(said?.text ?? ""))] };
  const isEnglish = header.get("$MEASUREMENT")?.text === ENGLISH;
  return {
    mm: isEnglish ? MM_PER_INCH : 1,
    problems: [warningAt(place, unitless(isEnglish))],
  };
}

function wholeNumber(text: string): number {
  return /^\d{1,3}$/.test(text) ? Number(text) : -1;
}

const MEND = "Set the drawing's units (insertion scale) and save it again";

function otherUnit(found: string): Fault {
  return {
    code: "dxf-units",
    found,
    expected: "1 (inches), 2 (feet), 4 (mm), 5 (cm), 6 (m) or 14 (dm)",
    mend: MEND,
  };
}

function unitless(isEnglish: boolean): Fault {
  return {
    code: "dxf-units-missing",
    found: isEnglish ? "no unit, and $MEASUREMENT 0 (inches)" : "no unit",
    expected: `the unit of the drawing; one unit is taken as ${isEnglish ? "an inch" : "1 mm"}`,
    mend: MEND,
  };
}
