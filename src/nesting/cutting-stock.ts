import { relaxedPatterns } from "./pattern-relaxation.ts";

/** How many of each size come out of one bar. */
export type BarPattern = readonly number[];

export interface BarsNeeded {
  /** One for each bar; together exactly what is wanted. */
  readonly patterns: readonly BarPattern[];
  /** Proven: fewer bars do not do. */
  readonly bound: number;
}

/**
 * One-dimensional cutting stock: as few bars as can be found, and how few there must be.
 *
 * Sizes are whole numbers, falling, none above `capacity`. First-fit decreasing gives a start; where
 * the relaxation (Gilmore and Gomory 1961) leaves room below it, its patterns are taken as whole
 * bars, and what is left is relaxed again, with another choice where that leads too high. The search
 * is bounded by a count of relaxations, so it is the same on every machine.
 */
export function fewestBars(
  sizes: readonly number[],
  wanted: readonly number[],
  capacity: number,
): BarsNeeded {
  let best = firstFit(sizes, wanted, capacity);
  const material = sizes.reduce((sum, size, i) => sum + size * wanted[i]!, 0);
  let bound = Math.ceil(material / capacity);
  if (best.length === bound || sizes.length > MOST_SIZES) return { patterns: best, bound };
  let relaxations = 0;
  const dive = (left: readonly number[], fixed: readonly BarPattern[]): void => {
    if (left.every((count) => count === 0)) {
      if (fixed.length < best.length) best = fixed;
      return;
    }
    if (++relaxations > MOST_RELAXATIONS) return;
    const relaxed = relaxedPatterns(sizes, left, capacity);
    if (fixed.length === 0) bound = Math.max(bound, relaxed.bound);
    if (fixed.length + relaxed.bound >= best.length) return;
    const whole = wholeBars(relaxed.used, left);
    if (whole.length > 0) {
      dive(whole.reduce(less, left), [...fixed, ...whole]);
      return;
    }
    for (const { pattern } of relaxed.used.slice(0, CHOICES)) {
      if (best.length === bound) return;
      const bar = pattern.map((count, i) => Math.min(count, left[i]!));
      dive(less(left, bar), [...fixed, bar]);
    }
  };
  dive(wanted, []);
  return { patterns: best, bound };
}

/** Above so many sizes the relaxation takes too long; the bound by material stands. */
const MOST_SIZES = 80;
const MOST_RELAXATIONS = 400;
/** Patterns tried as the next bar at each step of the search. */
const CHOICES = 3;

/** Each piece, longest first, in the first bar that has room. */
function firstFit(
  sizes: readonly number[],
  wanted: readonly number[],
  capacity: number,
): readonly BarPattern[] {
  const bars: { room: number; pattern: number[] }[] = [];
  for (const [i, size] of sizes.entries()) {
    let first = 0;
    for (let count = 0; count < wanted[i]!; count++) {
      while (first < bars.length && bars[first]!.room < size) first++;
      if (first === bars.length) bars.push({ room: capacity, pattern: sizes.map(() => 0) });
      const bar = bars[first]!;
      bar.room -= size;
      bar.pattern[i] = bar.pattern[i]! + 1;
    }
  }
  return bars.map(({ pattern }) => pattern);
}

/** The whole parts of the relaxed numbers of bars, as long as all that they yield is wanted. */
function wholeBars(
  used: readonly { readonly pattern: BarPattern; readonly bars: number }[],
  wanted: readonly number[],
): readonly BarPattern[] {
  const whole: BarPattern[] = [];
  let left = wanted;
  for (const { pattern, bars } of used) {
    for (let bar = 1; bar <= bars + WHOLE_TOLERANCE; bar++) {
      if (pattern.some((count, i) => count > left[i]!)) break;
      whole.push(pattern);
      left = less(left, pattern);
    }
  }
  return whole;
}

/** A relaxed number this close below a whole one is that. */
const WHOLE_TOLERANCE = 1e-6;

function less(wanted: readonly number[], pattern: BarPattern): readonly number[] {
  return wanted.map((count, i) => count - pattern[i]!);
}
