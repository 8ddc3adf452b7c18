/** Cutting stock in whole numbers; who fills it in chooses what a unit of length or cost is. */

/** Bars of one length and price. */
export interface StockKind {
  /** Length that pieces and cuts may take: with one kerf more than the bar, see {@link weightIn}. */
  readonly capacity: number;
  readonly kerf: number;
  /** Of a bar; 0 or more. */
  readonly cost: number;
  /** Bars there are; Infinity where as many as needed can be had. */
  readonly limit: number;
}

export interface CutOrder {
  /** Lengths of the pieces: whole, above 0, each once, falling. */
  readonly sizes: readonly number[];
  /** Of each size; whole, 1 or more. */
  readonly wanted: readonly number[];
  readonly kinds: readonly StockKind[];
}

/** What is sawn from one bar. */
export interface BarPattern {
  /** Index of the kind of bar. */
  readonly kind: number;
  /** Pieces of each size. */
  readonly counts: readonly number[];
}

export interface Sawing {
  /** One for each bar. */
  readonly bars: readonly BarPattern[];
  /** Of each size: pieces for which there is no bar. */
  readonly missing: readonly number[];
}

/** What a piece takes of a bar: itself and the cut behind it. */
export function weightIn({ kerf }: StockKind, size: number): number {
  return size + kerf;
}

export function costOf({ bars }: Sawing, kinds: readonly StockKind[]): number {
  return bars.reduce((sum, { kind }) => sum + kinds[kind]!.cost, 0);
}

export function missingIn({ missing }: Sawing): number {
  return missing.reduce((sum, count) => sum + count, 0);
}

/** Of the capacity of the bar: a piece with its cut may still take it. */
export function roomLeft({ kind, counts }: BarPattern, { sizes, kinds }: CutOrder): number {
  const bar = kinds[kind]!;
  return counts.reduce(
    (room, count, size) => room - count * weightIn(bar, sizes[size]!),
    bar.capacity,
  );
}
