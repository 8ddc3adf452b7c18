import { chanceText } from "../exports/range-text.ts";
import type {
  Estimate,
  FigureRecord,
  MixTried,
  QuoteLine,
  SizeTried,
  TimedStock,
} from "../estimate-data.ts";
import type { OperationTime, SheetTime } from "../machine/types.ts";
import { sheetArea } from "../geometry/sheet-area.ts";
import type { NestedSheet } from "../nesting/types.ts";
import { partId } from "../pricing/parts.ts";
import { stockId } from "../pricing/stock-figures.ts";
import type { PanelName, State } from "./state.ts";

/** What the cursor can stand on in each panel, and the figures behind it. */

export interface SheetRow {
  readonly stock: TimedStock;
  /** Among the sheets of its stock, from 0. */
  readonly index: number;
  readonly sheet: NestedSheet;
  readonly time: SheetTime | null;
}

/** A size of sheet, or a mix, that was tried for a stock; the cheapest that takes every part was chosen. */
export interface SizeRow {
  readonly stock: TimedStock;
  readonly size: SizeTried | MixTried;
}

export interface TimeRow {
  readonly of: SheetRow;
  /** Null for the row that sums the sheet up. */
  readonly operation: OperationTime | null;
}

export type PriceRow =
  | { readonly kind: "quote"; readonly line: QuoteLine }
  | { readonly kind: "cost"; readonly figure: FigureRecord }
  | RangeRow;

/** How far the cost may lie off; its reasons are the rows that swing it most. */
export interface RangeRow {
  readonly kind: "range";
  readonly what: string;
  readonly amount: string;
  readonly figures: readonly string[];
}

export function sheetRows(estimate: Estimate): readonly SheetRow[] {
  return estimate.stocks.flatMap((stock) =>
    stock.sheets.map((sheet, index) => ({ stock, index, sheet, time: stock.times[index] ?? null })),
  );
}

/** Stock after stock: the mix, if there is one, then the sizes from the cheapest on. */
export function sizeRows({ stocks }: Estimate): readonly SizeRow[] {
  return stocks.flatMap((stock) =>
    [stock.mix, stock.boughtMix, ...stock.bySize].flatMap((size) =>
      size === null ? [] : [{ stock, size }],
    ),
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
    ...rangeRows(estimate),
  ];
}

function rangeRows({ range }: Estimate): readonly RangeRow[] {
  if (range === null) return [];
  const { cost, lossChance, drivers } = range;
  const figures = drivers.slice(0, MOST_DRIVERS).flatMap((driver) => driver.figures);
  const row = (what: string, amount: string): RangeRow => ({
    kind: "range",
    what,
    amount,
    figures,
  });
  return [
    row("cost without contingency, 1 in 10 below", cost.p10),
    row("cost without contingency, half below", cost.p50),
    row("cost without contingency, 1 in 10 above", cost.p90),
    row("chance that it is more than the net total", chanceText(lossChance)),
  ];
}

const MOST_DRIVERS = 5;

/**
 * From direct cost to price: the steps of the build-up, in the order they are worked out; before them
 * what of the machine's charge is no time.
 */
export function costFigures({ figures }: Estimate): readonly FigureRecord[] {
  return figures.filter(({ id, unit }) => unit === "currency" && STEP.test(id));
}

const STEP = /^(?:cost|price)\.[^.]+$|^machine\.(?:minimum-charge|rush)$/;

export function rowCount(estimate: Estimate, panel: PanelName): number {
  if (panel === "parts") return estimate.parts.length;
  if (panel === "sizes") return sizeRows(estimate).length;
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

/** Area of the placed parts, as the beam cuts them, over the area of the sheet, 0 to 1. */
export function shareUsed(estimate: Estimate, sheet: NestedSheet): number {
  const areas = new Map(estimate.parts.map(({ name, cut }) => [name, cut.areaMm2]));
  const placed = sheet.placements.reduce((sum, { part }) => sum + (areas.get(part) ?? 0), 0);
  return placed / sheetArea(sheet);
}

export interface Question {
  readonly title: string;
  readonly figures: readonly string[];
}

/** What `why` asks about where the cursor stands; no figures when there is nothing to explain. */
export function questionAt(state: State): Question | null {
  const { estimate, panel, cursors } = state;
  if (!estimate) return null;
  if (panel === "price") return priceQuestion(priceRows(estimate)[cursors.price]);
  const known = (title: string, ids: readonly string[]): Question => ({
    title,
    figures: ids.filter((id) => estimate.figures.some((figure) => figure.id === id)),
  });
  if (panel === "parts") {
    const part = estimate.parts[cursors.parts];
    const figures = ["copies", "faces", "edge"];
    return part
      ? known(
          part.name,
          figures.map((what) => partId(part.name, what)),
        )
      : null;
  }
  const stock = stockAt(state, estimate);
  if (!stock) return null;
  const title = `${stock.material} ${stock.thicknessMm} mm`;
  const minutes = stockId(stock, "minutes").replace(/^sheet\./, "machine.");
  return known(title, [panel === "time" ? minutes : stockId(stock, "cost")]);
}

function stockAt({ panel, cursors }: State, estimate: Estimate): TimedStock | undefined {
  if (panel === "sizes") return sizeRows(estimate)[cursors.sizes]?.stock;
  if (panel === "sheets") return sheetRows(estimate)[cursors.sheets]?.stock;
  return timeRows(estimate)[cursors.time]?.of.stock;
}

function priceQuestion(row: PriceRow | undefined): Question | null {
  if (!row) return null;
  if (row.kind === "range") return { title: "What swings the cost most", figures: row.figures };
  return row.kind === "quote"
    ? { title: row.line.description, figures: [row.line.figure] }
    : { title: row.figure.label, figures: [row.figure.id] };
}
