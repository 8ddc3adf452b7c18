import type { NestedStock, SheetsUsed } from "../estimate-data.ts";
import { lengthText } from "../units.ts";

/** What sheets are called in the answers. */

/** `2 x acrylic-cast-3-900x600 + 1 x acrylic-cast-3-600x300`, `1250 mm of film-roll-500`. */
export function usedText(used: readonly SheetsUsed[]): string {
  return used.map((one) => oneSizeText(one)).join(" + ");
}

export function oneSizeText({ sheet, count, lengthMm }: SheetsUsed, length = lengthText): string {
  return lengthMm === null ? `${count} x ${sheet}` : `${length(lengthMm)} of ${sheet}`;
}

/** What one of the stock's sheets is. */
export function kindOf({ used }: NestedStock, id: string): "sheet" | "roll" | "offcut" {
  const its = used.find(({ sheet }) => sheet === id);
  return its?.offcut === true ? "offcut" : (its?.form ?? "sheet");
}
