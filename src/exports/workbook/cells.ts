import { startsFormula } from "../../csv.ts";
import type { DecimalText } from "../../estimate-data.ts";
import type { Look, Looks } from "./looks.ts";
import { escaped } from "./xml-text.ts";

/** Cells of a workbook and their XML. */

export type Cell =
  | { readonly kind: "text"; readonly text: string; readonly look: Look }
  | { readonly kind: "number"; readonly value: DecimalText; readonly look: Look }
  | {
      readonly kind: "formula";
      /** Without the equals sign. */
      readonly formula: string;
      /** What it comes to; null where that is not known. */
      readonly value: DecimalText | null;
      readonly look: Look;
    }
  | null;

/** `C2`; both from 0. */
export function reference(column: number, row: number): string {
  return `${String.fromCharCode("A".charCodeAt(0) + column)}${row + 1}`;
}

export function cellXml(cell: Cell, at: string, looks: Looks): string {
  if (cell === null) return "";
  if (cell.kind === "text") {
    // Stays a text when somebody edits it.
    const style = looks.indexOf({ ...cell.look, quoted: startsFormula(cell.text) });
    const text = escaped(cell.text.slice(0, MOST_LETTERS));
    return `<c r="${at}" s="${style}" t="inlineStr"><is><t xml:space="preserve">${text}</t></is></c>`;
  }
  const style = looks.indexOf(cell.look);
  const formula = cell.kind === "formula" ? `<f>${escaped(cell.formula)}</f>` : "";
  const value = cell.value === null ? "" : `<v>${Number(cell.value)}</v>`;
  return `<c r="${at}" s="${style}">${formula}${value}</c>`;
}

/** What a cell can hold. */
const MOST_LETTERS = 32_767;
