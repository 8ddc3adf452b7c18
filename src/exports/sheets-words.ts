import type { ComparedChoice, NestedStock, SheetLeftover, SheetsUsed } from "../estimate-data.ts";
import { lengthText, sizeText } from "../units.ts";

/** What sheets are called in the answers. */

/** `2 x acrylic-cast-3-900x600 + 1 x acrylic-cast-3-600x300`, `1250 mm of film-roll-500`. */
export function usedText(used: readonly SheetsUsed[]): string {
  return used.map((one) => oneSizeText(one)).join(" + ");
}

export function oneSizeText(used: SheetsUsed, length = lengthText): string {
  const { sheet, bought, lengthMm } = used;
  return lengthMm === null
    ? `${bought} x ${sheet}${panelText(used)}`
    : `${length(lengthMm)} of ${sheet}`;
}

/** ` (11 of 12 panels 604 x 402 mm)` where sheets are sawn up first. */
function panelText({ count, panels, bought, widthMm, heightMm }: SheetsUsed): string {
  if (panels === 1) return "";
  return ` (${count} of ${bought * panels} panels ${sizeText(widthMm, heightMm)})`;
}

/** What one of the stock's sheets is. */
export function kindOf({ used }: NestedStock, id: string): "sheet" | "panel" | "roll" | "offcut" {
  const its = used.find(({ sheet }) => sheet === id);
  if (its === undefined) return "sheet";
  if (its.panels > 1) return "panel";
  return its.offcut ? "offcut" : its.form;
}

/** `acrylic-cast-3-900x600`, or what kind of mix it is. */
export function nameOf({ kind, used }: ComparedChoice): string {
  if (kind === "size") return used[0]?.sheet ?? "";
  return kind === "offcuts" ? "with offcuts" : "best mix";
}

/** What a mix is of, and what is wrong with a choice, a line for each. */
export function partsOf({ kind, used, complete }: ComparedChoice): readonly string[] {
  const sheets = used.map((one) => `${oneSizeText(one)}${one.offcut ? ", offcut" : ""}`);
  return [...(kind === "size" ? [] : sheets), ...(complete ? [] : ["does not take every part"])];
}

/** `590 x 192`: whole mm, rounded down, for it is to be cut from it. */
export function wholeText({ widthMm, heightMm }: SheetLeftover): string {
  return `${Math.floor(widthMm)} x ${Math.floor(heightMm)}`;
}

/** `27 min`, `1:54 h`. */
export function hoursText(seconds: number): string {
  const minutes = Math.round(seconds / 60);
  if (minutes < 60) return `${minutes} min`;
  return `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, "0")} h`;
}

/** What can be done about the gap of the cheapest sheets, after the bound. */
export function gapHint(choices: readonly ComparedChoice[], steps: number): string {
  const cheapest = cheapestSheets(choices);
  const gap = cheapest?.gapPercent ?? null;
  if (gap === 0)
    return `: the one ${cheapest?.chosen === true ? "marked" : "that costs so much"} is proved to be the cheapest.`;
  if (gap === null || gap < LARGE_GAP_PERCENT) return ".";
  return `. That is far below: more steps may find cheaper sheets, as with --steps ${MORE * Math.max(1, steps)}; the bound itself is seldom reached.`;
}

/** The first of those that cost least in sheets, and take every part; null where none does. */
export function cheapestSheets(choices: readonly ComparedChoice[]): ComparedChoice | null {
  return choices.reduce<ComparedChoice | null>(
    (least, one) =>
      one.complete && (least === null || Number(one.cost) < Number(least.cost)) ? one : least,
    null,
  );
}

const LARGE_GAP_PERCENT = 10;
const MORE = 10;
