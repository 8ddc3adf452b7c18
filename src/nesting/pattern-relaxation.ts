import { bestPattern } from "./knapsack.ts";

export interface Relaxed {
  /** Patterns with the number of bars, not whole, that the relaxation saws by them; most bars first. */
  readonly used: readonly { readonly pattern: readonly number[]; readonly bars: number }[];
  /** Whole bars that any plan needs at least. */
  readonly bound: number;
}

/**
 * The linear relaxation of cutting stock by column generation (Gilmore and Gomory 1961): a revised
 * simplex with one row for each size, new patterns by the knapsack over the sizes' values.
 *
 * The bound is that of Farley 1990: values of the sizes, divided by what the best pattern is worth
 * at them, are a feasible dual whatever the simplex has reached. It holds to rounding.
 */
export function relaxedPatterns(
  sizes: readonly number[],
  wanted: readonly number[],
  capacity: number,
): Relaxed {
  const rows = sizes.flatMap((_, i) => (wanted[i]! > 0 ? [i] : []));
  const most = rows.map((i) => wanted[i]!);
  const weights = rows.map((i) => sizes[i]!);
  const basis = startingBasis(weights, most, capacity);
  let bound = 0;
  for (let pivot = 0; pivot < MOST_PIVOTS; pivot++) {
    const values = valuesOf(basis);
    const worth = most.reduce((sum, count, row) => sum + count * values[row]!, 0);
    const { pattern, value, exact } = bestPattern(weights, values, most, capacity);
    if (exact && value > 0) bound = Math.max(bound, worth / Math.max(1, value));
    const surplus = values.findIndex((each) => each < -TINY);
    if (surplus >= 0)
      enter(basis, { pattern: rows.map((_, row) => (row === surplus ? -1 : 0)), cost: 0 });
    else if (value > 1 + TINY) enter(basis, { pattern, cost: 1 });
    else break;
  }
  return { used: usedPatterns(basis, rows, sizes.length), bound: Math.ceil(bound - ROUNDING) };
}

const MOST_PIVOTS = 2000;
const TINY = 1e-9;
/** A bound this little above a whole number is that number. */
const ROUNDING = 1e-6;

interface Column {
  readonly pattern: readonly number[];
  /** 1 for a bar, 0 for pieces sawn beyond what is wanted. */
  readonly cost: number;
}

interface Basis {
  readonly columns: Column[];
  /** Inverse of the matrix whose columns are the patterns. */
  readonly inverse: number[][];
  /** Of each column. */
  readonly bars: number[];
}

/** Each size by itself, as often as a bar holds it. */
function startingBasis(
  weights: readonly number[],
  most: readonly number[],
  capacity: number,
): Basis {
  const counts = weights.map((weight, row) => Math.min(most[row]!, Math.floor(capacity / weight)));
  return {
    columns: diagonal(counts).map((pattern) => ({ pattern, cost: 1 })),
    inverse: diagonal(counts.map((count) => 1 / count)),
    bars: counts.map((count, row) => most[row]! / count),
  };
}

function diagonal(values: readonly number[]): number[][] {
  return values.map((value, row) => values.map((_, column) => (row === column ? value : 0)));
}

/** What one more piece of each size would cost: the dual values. */
function valuesOf({ columns, inverse }: Basis): readonly number[] {
  return inverse.map((_, row) =>
    columns.reduce((sum, { cost }, column) => sum + cost * inverse[column]![row]!, 0),
  );
}

function enter({ columns, inverse, bars }: Basis, column: Column): void {
  const direction = inverse.map((row) =>
    row.reduce((sum, each, index) => sum + each * column.pattern[index]!, 0),
  );
  let leaving = -1;
  let step = Infinity;
  for (const [index, slope] of direction.entries()) {
    if (slope <= TINY || bars[index]! / slope >= step) continue;
    step = bars[index]! / slope;
    leaving = index;
  }
  if (leaving < 0) return;
  const pivotRow = inverse[leaving]!.map((each) => each / direction[leaving]!);
  for (const [index, row] of inverse.entries()) {
    if (index === leaving) continue;
    const factor = direction[index]!;
    inverse[index] = row.map((each, at) => each - factor * pivotRow[at]!);
    bars[index] = Math.max(0, bars[index]! - factor * step);
  }
  inverse[leaving] = pivotRow;
  bars[leaving] = step;
  columns[leaving] = column;
}

function usedPatterns(
  { columns, bars }: Basis,
  rows: readonly number[],
  sizeCount: number,
): Relaxed["used"] {
  return columns
    .flatMap(({ pattern, cost }, index) => {
      if (cost === 0 || bars[index]! <= TINY) return [];
      const whole = Array.from({ length: sizeCount }, () => 0);
      for (const [row, size] of rows.entries()) whole[size] = pattern[row]!;
      return [{ pattern: whole, bars: bars[index]! }];
    })
    .sort((a, b) => b.bars - a.bars);
}
