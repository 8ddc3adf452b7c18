import type { Arithmetic } from "../../arithmetic.ts";
import { DUST_DECIMALS } from "../../arithmetic.ts";

/**
 * Reads formulas as those of a spreadsheet (ECMA-376, part 1, 18.17): a value is the text of a cell
 * reference, a number or a formula, which may stand as an argument or beside any operator. A
 * spreadsheet counts in doubles: below ten million minor units (100,000.00, or 10,000.000 where there
 * are three decimals) a half is rounded as in decimals, above it may go the other way.
 * @param aside puts a formula into a cell of its own, for what would be too long in one. Gives back
 * the reference.
 */
export function formulaText(aside: (formula: string) => string): Arithmetic<string> {
  /** Sums and largest values may be taken of parts first; 200 arguments are below all limits. */
  const inParts = (name: string, values: readonly string[]): string => {
    const listed = ranges(values);
    if (listed.length <= MOST_ARGUMENTS) return `${name}(${listed.join(",")})`;
    const parts = Array.from({ length: Math.ceil(listed.length / MOST_ARGUMENTS) }, (_, index) =>
      listed.slice(index * MOST_ARGUMENTS, (index + 1) * MOST_ARGUMENTS),
    );
    return inParts(
      name,
      parts.map((part) => aside(`${name}(${part.join(",")})`)),
    );
  };
  return {
    whole: String,
    sum: (values) => inParts("SUM", values),
    // PRODUCT would pass over an empty cell; a product with nothing is nothing.
    product: (values) => `(${values.join("*")})`,
    minus: (from, less) => `(${from}-${less})`,
    over: (value, by) => `(${value}/${by})`,
    // INT goes down also below 0, where ROUNDUP would go away from it.
    ceiling: (value) => `(-INT(-${dusted(value)}))`,
    // ROUND has halves away from zero.
    nearest: (value) => `ROUND(${dusted(value)},0)`,
    largest: (values) => inParts("MAX", values),
    ifMore: (value, limit, above, within) => `IF(${value}>${limit},${above},${within})`,
    log2: (value) => `LOG(${value},2)`,
    power: (base, exponent) => `POWER(${base},${exponent})`,
    // The numbers of the rows count from 1; INDEX moves with the count, and recalculates only then.
    sumOfPowers: (count, exponent) =>
      `SUMPRODUCT(POWER(ROW($A$1:INDEX($A:$A,${count})),${exponent}))`,
  };
}

/** Below the 255 arguments and, with references this long, the 8192 letters that a formula may have. */
const MOST_ARGUMENTS = 200;

function dusted(value: string): string {
  return `ROUND(${value},${DUST_DECIMALS})`;
}

/** `C2:C5, C9` of C2, C3, C4, C5, C9: cells that follow each other down a column are one range. */
function ranges(values: readonly string[]): readonly string[] {
  const found: { first: string; last: string; next: string | null }[] = [];
  for (const value of values) {
    const before = found.at(-1);
    if (before?.next === value) [before.last, before.next] = [value, below(value)];
    else found.push({ first: value, last: value, next: below(value) });
  }
  return found.map(({ first, last }) => (first === last ? first : `${first}:${last}`));
}

/** The cell below; null for what is no reference to one. */
function below(reference: string): string | null {
  const [, column, row] = /^([A-Z]+)(\d+)$/.exec(reference) ?? [];
  return column === undefined ? null : `${column}${Number(row) + 1}`;
}
