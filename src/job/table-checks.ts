import type { Fault } from "../problem.ts";
import type { ValuesOf } from "./rows.ts";
import type {
  FEED_COLUMNS,
  MACHINE_COLUMNS,
  PAINT_COLUMNS,
  SHEET_COLUMNS,
  STOCK_LENGTH_COLUMNS,
} from "./table-columns.ts";
import type { Spread } from "./types.ts";

/** What must agree between the cells of one row. */

export interface CellFault extends Fault {
  readonly column: string;
}

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
  cells: SpreadCells,
  columns: readonly [string, string, string],
): readonly CellFault[] {
  const { low, likely, high } = spreadOf(cells);
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

export function feedFaults(row: ValuesOf<typeof FEED_COLUMNS>): readonly CellFault[] {
  return spreadFaults(row, ["feed_low_mm_s", "feed_mm_s", "feed_high_mm_s"]);
}

/** A can's spread is told, or follows from solids and film; two answers could contradict each other. */
export function paintFaults(row: ValuesOf<typeof PAINT_COLUMNS>): readonly CellFault[] {
  const { low, likely, high, solidsPercent, filmUm } = row;
  const film = solidsPercent !== null && filmUm !== null;
  if (likely === null) return film ? [] : [NO_SPREAD];
  if (solidsPercent !== null || filmUm !== null)
    return [{ ...SPREAD_TWICE, found: String(likely) }];
  return spreadFaults({ low, likely, high }, ["spread_low_m2", "spread_m2", "spread_high_m2"]);
}

/** One's own machine costs what it runs; a minimum there would be read and never counted. */
export function machineFaults(row: ValuesOf<typeof MACHINE_COLUMNS>): readonly CellFault[] {
  if (row.kind === "service") return [];
  const set = [
    { column: "minimum_minutes", value: row.minimumMinutes },
    { column: "billing_step_minutes", value: row.billingStepMinutes },
  ];
  return set
    .filter(({ value }) => value > 0)
    .map(({ column, value }) => ({
      column,
      code: "minimum-not-used",
      found: String(value),
      expected: "0 for one's own machine, which is charged as it runs",
      mend: "Write 0, or write service under kind if somebody bills it",
    }));
}

export function sheetFaults(row: ValuesOf<typeof SHEET_COLUMNS>): readonly CellFault[] {
  const { form, widthMm, heightMm, marginMm } = row;
  const narrow = Math.min(widthMm, heightMm ?? widthMm);
  return [
    ...(form === "sheet" && heightMm === null ? [NO_HEIGHT] : []),
    ...(form === "roll" && heightMm !== null ? [{ ...ROLL_HEIGHT, found: String(heightMm) }] : []),
    ...(marginMm * 2 >= narrow ? [marginFault(marginMm, narrow)] : []),
  ];
}

export function stockLengthFaults(
  row: ValuesOf<typeof STOCK_LENGTH_COLUMNS>,
): readonly CellFault[] {
  if (row.endTrimMm < row.lengthMm) return [];
  return [
    {
      column: "end_trim_mm",
      code: "trim-too-long",
      found: String(row.endTrimMm),
      expected: `less than ${row.lengthMm}, the length itself`,
      mend: "Correct the trim or the length: nothing is left of the bar",
    },
  ];
}

const NO_SPREAD: CellFault = {
  column: "spread_m2",
  code: "paint-without-spread",
  found: "",
  expected: "the area a can covers in one coat, or both solids_percent and film_um",
  mend: "Fill in spread_m2 from the can's label, or the other two from the data sheet",
};

const SPREAD_TWICE: Omit<CellFault, "found"> = {
  column: "spread_m2",
  code: "spread-twice",
  expected: "either spread_m2, or solids_percent and film_um",
  mend: "Empty the cells of the way that is known less well",
};

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
