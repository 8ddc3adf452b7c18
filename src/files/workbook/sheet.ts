import type { Book } from "./book.ts";
import { dayText, numberText, PLAIN } from "./formats.ts";
import { TextPiece, unescaped } from "./texts.ts";
import { visitXml } from "./xml.ts";
import type { Attributes } from "./xml.ts";

/** One sheet of a workbook (ECMA-376, part 1, 18.3.1), its cells as texts. */

export interface Sheet {
  /** Cells with a text or a fault, by row and column, both from 1, in order. */
  readonly rows: ReadonlyMap<number, ReadonlyMap<number, SheetCell>>;
  readonly merged: readonly Region[];
  readonly hiddenRows: readonly number[];
  /** First and last of each run (18.3.1.13). */
  readonly hiddenColumns: readonly (readonly [first: number, last: number])[];
}

export interface SheetCell {
  /** One line. */
  readonly text: string;
  /** Why the text is not what the person wrote, or null. */
  readonly fault: "error" | "day" | "not worked out" | null;
}

/** First and last row and column. */
export interface Region {
  /** `B3:B5`. */
  readonly name: string;
  readonly top: number;
  readonly bottom: number;
  readonly left: number;
  readonly right: number;
}

type Shared = Pick<Book, "texts" | "formats" | "from1904">;

/** Throws where the XML is malformed. */
export function readSheet(xml: string, shared: Shared): Sheet {
  const rows = new Map<number, Map<number, SheetCell>>();
  const merged: Region[] = [];
  const hiddenRows: number[] = [];
  const hiddenColumns: (readonly [number, number])[] = [];
  const inline = new TextPiece();
  let [row, column] = [0, 0];
  let raw: RawCell = rawCell({});
  let inValue = false;
  visitXml(xml, {
    open: (tag, attributes) => {
      inline.open(tag);
      if (tag === "row") {
        row = Number(attributes["r"] ?? row + 1);
        column = 0;
        if (isHidden(attributes)) hiddenRows.push(row);
      }
      if (tag === "col" && isHidden(attributes))
        hiddenColumns.push([Number(attributes["min"]), Number(attributes["max"])]);
      if (tag === "c") {
        column = attributes["r"] === undefined ? column + 1 : regionOf(attributes["r"]).left;
        raw = rawCell(attributes);
      }
      if (tag === "f") raw.formula = true;
      if (tag === "v") {
        inValue = true;
        raw.value = "";
      }
      if (tag === "mergeCell") merged.push(regionOf(attributes["ref"] ?? ""));
    },
    text: (text) => {
      inline.write(text);
      if (inValue) raw.value = (raw.value ?? "") + text;
    },
    close: (tag) => {
      inline.close(tag);
      if (tag === "v") inValue = false;
      if (tag !== "c") return;
      const cell = cellOf({ ...raw, inline: inline.take() }, shared);
      if (cell.text === "" && cell.fault === null) return;
      const cells = rows.get(row) ?? new Map<number, SheetCell>();
      rows.set(row, cells.set(column, cell));
    },
  });
  return { rows: inOrder(rows), merged, hiddenRows, hiddenColumns };
}

function isHidden({ hidden }: Attributes): boolean {
  return hidden === "1" || hidden === "true";
}

/** `BA` for 53, as sheets name their columns. */
export function columnLetters(column: number): string {
  if (column <= 0) return "";
  const last = (column - 1) % LETTERS;
  return `${columnLetters((column - 1 - last) / LETTERS)}${String.fromCharCode(A + last)}`;
}

const LETTERS = 26;
const A = "A".charCodeAt(0);

interface RawCell {
  readonly type: string;
  readonly style: number;
  formula: boolean;
  /** Null when there is none, which is not the same as an empty text. */
  value: string | null;
}

function rawCell({ t: type = "n", s: style = "0" }: Attributes): RawCell {
  return { type, style: Number(style), formula: false, value: null };
}

/** Types of cells: ECMA-376, part 1, 18.18.11. A formula's value is that of its last working out. */
function cellOf(
  { type, style, formula, value, inline }: RawCell & { readonly inline: string },
  { texts, formats, from1904 }: Shared,
): SheetCell {
  const said = (value ?? "").trim();
  if (formula && (value === null || (said === "" && type === "n")))
    return { text: "", fault: "not worked out" };
  if (type === "e") return { text: said, fault: "error" };
  if (type === "d") return { text: said.slice(0, "2026-01-08".length), fault: "day" };
  if (type === "b") return plain(said === "1" ? "TRUE" : "FALSE");
  if (type === "s") return plain(said === "" ? "" : (texts[Number(said)] ?? ""));
  if (type === "inlineStr") return plain(inline);
  const count = Number(said);
  if (type === "str" || said === "" || !Number.isFinite(count))
    return plain(unescaped(value ?? ""));
  const format = formats[style] ?? PLAIN;
  return format.kind === "day"
    ? { text: dayText(count, from1904), fault: "day" }
    : plain(numberText(count, format));
}

function plain(text: string): SheetCell {
  return { text: text.replace(/\s+/g, " ").trim(), fault: null };
}

/** `B3:C5`, or `B3` alone. */
function regionOf(name: string): Region {
  const [, left = "", top = "", right = left, bottom = top] =
    /^\$?([A-Z]+)\$?(\d+)(?::\$?([A-Z]+)\$?(\d+))?$/.exec(name) ?? [];
  return {
    name,
    top: Number(top),
    bottom: Number(bottom),
    left: columnNumber(left),
    right: columnNumber(right),
  };
}

function columnNumber(letters: string): number {
  return letters.split("").reduce((sum, letter) => sum * LETTERS + letter.charCodeAt(0) - A + 1, 0);
}

/** Writers may leave them in any order. */
function inOrder(rows: ReadonlyMap<number, ReadonlyMap<number, SheetCell>>): Sheet["rows"] {
  const sorted = [...rows].map(
    ([row, cells]) => [row, new Map([...cells].toSorted(([a], [b]) => a - b))] as const,
  );
  return new Map(sorted.toSorted(([a], [b]) => a - b));
}
