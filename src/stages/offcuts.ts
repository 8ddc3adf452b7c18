import { stockName } from "../units.ts";
import type { Panels } from "./panels.ts";
import type { OffcutOnShelf, SheetRow } from "../job/types.ts";

/** Offcuts on the shelf as sheets to nest on. */

/** A sheet of the table, or an offcut. */
export interface StockRow extends SheetRow {
  readonly offcut?: boolean;
  /** Into which it is sawn before it comes to the machine. */
  readonly panels?: Panels;
}

/**
 * An offcut keeps the margin and the gap of the sheets of its stock, the widest where they differ.
 * All are rectangles: outlines of odd-shaped ones would come in here, beside width and height.
 *
 * @param sold of the same material and thickness.
 */
export function offcutRow(offcut: OffcutOnShelf, sold: readonly SheetRow[]): StockRow {
  const { id, material, thicknessMm, widthMm, heightMm, quantity, price, note, place } = offcut;
  const sheets = sold.filter(({ form }) => form === "sheet");
  const like = sheets.length > 0 ? sheets : sold;
  return {
    id,
    material,
    thicknessMm,
    form: "sheet",
    widthMm,
    heightMm,
    price,
    marginMm: Math.max(...like.map(({ marginMm }) => marginMm)),
    gapMm: Math.max(...like.map(({ gapMm }) => gapMm)),
    onHand: quantity,
    place,
    validFrom: "",
    source: note === "" ? `offcut of ${stockName(offcut)}` : note,
    offcut: true,
  };
}
