import type { PaintRow, SheetRow, TableRow } from "../job/types.ts";
import { Amount } from "../money.ts";
import { inColumn, warningAt } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { sameThickness } from "../units.ts";
import type { MeasuredJob } from "./types.ts";

/**
 * Prices that a slip of digits or a wrong unit has made. What is usual differs between currencies by
 * five digits, so each is held against those of its own table: sheets by volume, cans
 * by content.
 */
export function oddPrices({ job, tables }: MeasuredJob): readonly Problem[] {
  const { parts } = job;
  const isUsed = (row: SheetRow): boolean =>
    parts.some(
      (part) => part.material === row.material && sameThickness(part.thicknessMm, row.thicknessMm),
    );
  return [
    ...outOfLine(tables.sheets, {
      of: sheetPrice,
      what: "sheets by volume",
      isUsed,
    }),
    ...outOfLine(tables.paints, { of: canPrice, what: "paints by content" }),
  ];
}

/** A mm3 of it; of a roll the price is that of a metre. */
function sheetPrice({ price, widthMm, heightMm, thicknessMm }: SheetRow): Amount {
  return price.div(new Amount(widthMm).times(heightMm ?? METRE_MM).times(thicknessMm));
}

const METRE_MM = 1000;

/** A ml of it; 0 where it is not sold by content. */
function canPrice({ price, contentMl }: PaintRow): Amount {
  return contentMl === null ? new Amount(0) : price.div(contentMl);
}

interface Compared<Row> {
  /** 0 is not compared. */
  readonly of: (row: Row) => Amount;
  readonly what: string;
  /** Rows that the job may use; all unless said. */
  readonly isUsed?: (row: Row) => boolean;
}

/** Too few others say nothing. */
const FEWEST_OTHERS = 3;
/** The tables that come with the program reach 5 times either way (measured); a slip of digits is 10 or 100. */
const MOST_TIMES = 50;

function outOfLine<Row extends TableRow>(
  rows: readonly Row[],
  { of, what, isUsed = () => true }: Compared<Row>,
): readonly Problem[] {
  const priced = rows.filter((row) => of(row).gt(0));
  return priced.filter(isUsed).flatMap((row) => {
    const others = priced.filter((other) => other !== row).map(of);
    if (others.length < FEWEST_OTHERS) return [];
    const times = of(row).div(median(others));
    const [factor, way] = times.gte(1) ? [times, "more"] : [new Amount(1).div(times), "less"];
    if (factor.lt(MOST_TIMES)) return [];
    return warningAt(inColumn(row.place, "price"), {
      code: "price-out-of-line",
      found: row.id,
      expected: `a price near those of other ${what}; it is ${factor.toFixed(0)} times ${way} than the middle of them`,
      mend: "Correct the price or the size, or leave them if they are meant",
    });
  });
}

function median(values: readonly Amount[]): Amount {
  const sorted = values.toSorted((a, b) => a.cmp(b));
  return sorted[Math.floor(sorted.length / 2)] ?? new Amount(1);
}
