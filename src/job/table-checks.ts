import type { Fault } from "../problem.ts";
import type { Columns, Readable, ValuesOf } from "./rows.ts";
import type {
  FEED_COLUMNS,
  FIT_COLUMNS,
  SHEET_COLUMNS,
  STOCK_LENGTH_COLUMNS,
  TASK_COLUMNS,
} from "./table-columns.ts";
import type { Spread, StockLengthRow } from "./types.ts";

/**
 * What must agree between the cells of one row. A cell that could not be read is undefined, and no
 * fault follows from it.
 */

export interface CellFault extends Fault {
  readonly column: string;
}

export type CellsOf<C extends Columns> = Readable<ValuesOf<C>>;

/** A low, likely and high value as read; an empty low or high is the likely one. */
export interface SpreadCells {
  readonly low: number | null;
  readonly likely: number;
  readonly high: number | null;
}

export function spreadOf({ low, likely, high }: SpreadCells): Spread {
  return { low: low ?? likely, likely, high: high ?? likely };
}

/** @param columns names of the low, likely and high column. */
export function spreadFaults(
  cells: Readable<SpreadCells>,
  columns: readonly [low: string, likely: string, high: string],
): readonly CellFault[] {
  if (cells.likely === undefined) return [];
  const { low: lowCell = null, likely, high: highCell = null } = cells;
  const { low, high } = spreadOf({ low: lowCell, likely, high: highCell });
  const wrong = [
    ...(low > likely ? [{ column: columns[0], found: low, sign: "at most" }] : []),
    ...(high < likely ? [{ column: columns[2], found: high, sign: "at least" }] : []),
  ];
  return wrong.map(({ column, found, sign }) => ({
    column,
    code: "spread-order",
    found: String(found),
    expected: `${sign} the ${columns[1]} of ${likely}`,
    mend: "Put the three in order: low, likely, high",
  }));
}

export function feedFaults(row: CellsOf<typeof FEED_COLUMNS>): readonly CellFault[] {
  const { operation, pricePerM = null, pricePerM2 = null } = row;
  const wrong = operation === "engrave" ? pricePerM : operation === undefined ? null : pricePerM2;
  const [meant, column] =
    operation === "engrave" ? ["price_per_m2", "price_per_m"] : ["price_per_m", "price_per_m2"];
  return [
    ...spreadFaults(row, ["feed_low_mm_s", "feed_mm_s", "feed_high_mm_s"]),
    ...(wrong === null || operation === undefined
      ? []
      : [
          {
            column,
            code: "price-by-other-measure",
            found: wrong.toString(),
            expected: `an empty cell: to ${operation} is priced under ${meant}`,
            mend: `Write the price for ${operation === "engrave" ? "a m2" : "a metre"} under ${meant}`,
          },
        ]),
  ];
}

export function fitFaults({
  clearanceLowMm: low,
  clearanceHighMm: high,
}: CellsOf<typeof FIT_COLUMNS>): readonly CellFault[] {
  if (low === undefined || high === undefined || low <= high) return [];
  return [
    {
      column: "clearance_high_mm",
      code: "spread-order",
      found: String(high),
      expected: `at least the clearance_low_mm of ${low}`,
      mend: "Put the tighter clearance first",
    },
  ];
}

export function sheetFaults(row: CellsOf<typeof SHEET_COLUMNS>): readonly CellFault[] {
  const { form, widthMm = Infinity, heightMm, marginMm = 0 } = row;
  const narrow = Math.min(widthMm, heightMm ?? Infinity);
  return [
    ...(form === "sheet" && heightMm === null ? [NO_HEIGHT] : []),
    ...(form === "roll" && typeof heightMm === "number"
      ? [{ ...ROLL_HEIGHT, found: String(heightMm) }]
      : []),
    ...(marginMm * 2 >= narrow ? [marginFault(marginMm, narrow)] : []),
  ];
}

/** A bar that costs nothing, and of which there are only so many. */
export function isFromShelf({ price, onHand }: Pick<StockLengthRow, "price" | "onHand">): boolean {
  return onHand !== null && price.isZero();
}

export function stockLengthFaults(row: CellsOf<typeof STOCK_LENGTH_COLUMNS>): readonly CellFault[] {
  const { endTrimMm = 0, lengthMm = Infinity } = row;
  if (endTrimMm < lengthMm) return [];
  return [
    {
      column: "end_trim_mm",
      code: "trim-too-long",
      found: String(endTrimMm),
      expected: `less than ${lengthMm}, the length itself`,
      mend: "Correct the trim or the length: nothing is left of the bar",
    },
  ];
}

const NO_HEIGHT: CellFault = {
  column: "height_mm",
  code: "sheet-without-height",
  found: "",
  expected: "the height of the sheet, a number above 0",
  mend: "Fill in height_mm, or write roll under form",
};

const ROLL_HEIGHT: Omit<CellFault, "found"> = {
  column: "height_mm",
  code: "roll-with-height",
  expected: "an empty cell, because a roll is priced by the metre",
  mend: "Empty the cell, or write sheet under form",
};

function marginFault(marginMm: number, narrow: number): CellFault {
  return {
    column: "margin_mm",
    code: "margin-too-wide",
    found: String(marginMm),
    expected: `less than ${narrow / 2}, half of the shorter side`,
    mend: "Correct the margin or the size of the sheet: nothing is left between the margins",
  };
}

export function taskFaults(row: CellsOf<typeof TASK_COLUMNS>): readonly CellFault[] {
  const { basis, learningPercent = null } = row;
  const repeated = basis !== "order" && basis !== "sheet";
  const spread = spreadFaults(row, ["minutes_low", "minutes", "minutes_high"]);
  if (repeated || learningPercent === null) return spread;
  return [
    ...spread,
    {
      column: "learning_percent",
      code: "learning-not-used",
      found: String(learningPercent),
      expected: `an empty cell: what is counted by ${basis} is not repeated with every piece`,
      mend: "Empty the cell, or choose another basis",
    },
  ];
}
