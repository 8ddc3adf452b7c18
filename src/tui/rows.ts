import type { Estimate, FigureRecord, QuoteLine, TimedStock } from "../estimate-data.ts";
import type { OperationTime, SheetTime } from "../machine/types.ts";
import type { NestedSheet } from "../nesting/types.ts";
import { partId } from "../pricing/parts.ts";
import { stockId } from "../pricing/sheets.ts";
import type { PanelName, State } from "./state.ts";

/** What the cursor can stand on in each panel, and the figures behind it. */

export interface SheetRow {
  readonly stock: TimedStock;
  /** Among the sheets of its stock, from 0. */
  readonly index: number;
  readonly sheet: NestedSheet;
  readonly time: SheetTime | null;
}

export interface TimeRow {
  readonly of: SheetRow;
  /** Null for the row that sums the sheet up. */
  readonly operation: OperationTime | null;
}

export type PriceRow =
  | { readonly kind: "quote"; readonly line: QuoteLine }
  | { readonly kind: "cost"; readonly figure: FigureRecord };

export function sheetRows(estimate: Estimate): readonly SheetRow[] {
  return estimate.stocks.flatMap((stock) =>
    stock.sheets.map((sheet, index) => ({ stock, index, sheet, time: stock.times[index] ?? null })),
  );
}

/** For each sheet its sum, then its operations. */
export function timeRows(estimate: Estimate): readonly TimeRow[] {
  return sheetRows(estimate).flatMap((of) => [
    { of, operation: null },
    ...(of.time?.operations ?? []).map((operation) => ({ of, operation })),
  ]);
}

/** The customer's lines, then the maker's costs that lead to them. */
export function priceRows(estimate: Estimate): readonly PriceRow[] {
  return [
    ...estimate.quote.map((line) => ({ kind: "quote", line }) as const),
    ...costFigures(estimate).map((figure) => ({ kind: "cost", figure }) as const),
  ];
}

/** From direct cost to price: the steps of the build-up, in the order they are worked out. */
export function costFigures({ figures }: Estimate): readonly FigureRecord[] {
  return figures.filter(
    ({ id, unit }) => unit === "currency" && /^(?:cost|price)\.[^.]+$/.test(id),
  );
}

export function rowCount(estimate: Estimate, panel: PanelName): number {
  if (panel === "parts") return estimate.parts.length;
  if (panel === "sheets") return sheetRows(estimate).length;
  return panel === "time" ? timeRows(estimate).length : priceRows(estimate).length;
}

/** Parts that lie on a sheet with how many copies, in the order of the parts list. */
export function partsOnSheet(
  estimate: Estimate,
  sheet: NestedSheet,
): readonly { readonly part: string; readonly copies: number }[] {
  return estimate.parts
    .map(({ name }) => ({
      part: name,
      copies: sheet.placements.filter(({ part }) => part === name).length,
    }))
    .filter(({ copies }) => copies > 0);
}

/** Area of the placed parts over the area of the sheet, 0 to 1. */
export function shareUsed(estimate: Estimate, sheet: NestedSheet): number {
  const areas = new Map(estimate.parts.map(({ name, geometry }) => [name, geometry.areaMm2]));
  const placed = sheet.placements.reduce((sum, { part }) => sum + (areas.get(part) ?? 0), 0);
  return placed / (sheet.widthMm * sheet.heightMm);
}

export interface Question {
  readonly title: string;
  readonly figures: readonly string[];
}

/** What `why` asks about where the cursor stands; no figures when there is nothing to explain. */
export function questionAt(state: State): Question | null {
  const { estimate, panel, cursors } = state;
  if (!estimate) return null;
  const known = (ids: readonly string[]): readonly string[] =>
    ids.filter((id) => estimate.figures.some((figure) => figure.id === id));
  if (panel === "parts") {
    const part = estimate.parts[cursors.parts];
    return part
      ? {
          title: part.name,
          figures: known(["copies", "faces", "edge"].map((what) => partId(part.name, what))),
        }
      : null;
  }
  if (panel === "price") return priceQuestion(priceRows(estimate)[cursors.price]);
  const row =
    panel === "sheets" ? sheetRows(estimate)[cursors.sheets] : timeRows(estimate)[cursors.time]?.of;
  if (!row) return null;
  const sheet = stockId(row.stock, panel === "sheets" ? "cost" : "minutes");
  const id = panel === "sheets" ? sheet : sheet.replace(/^sheet\./, "machine.");
  return { title: `${row.stock.material} ${row.stock.thicknessMm} mm`, figures: known([id]) };
}

function priceQuestion(row: PriceRow | undefined): Question | null {
  if (!row) return null;
  return row.kind === "quote"
    ? { title: row.line.description, figures: [row.line.figure] }
    : { title: row.figure.label, figures: [row.figure.id] };
}
