import type { Amount } from "../money.ts";
import { fewestBars, type BarPattern } from "./cutting-stock.ts";

/** Pieces of one length to be sawn from bars. */
export interface LengthWanted {
  readonly name: string;
  readonly lengthMm: number;
  /** 1 or more. */
  readonly count: number;
}

/** A length that bars are sold in. */
export interface Bar {
  readonly id: string;
  readonly lengthMm: number;
  readonly price: Amount;
  /** Lost at each cut. */
  readonly sawKerfMm: number;
  /** Cut off each bar for its factory ends, in all. */
  readonly endTrimMm: number;
}

export interface SawnLength {
  readonly name: string;
  readonly lengthMm: number;
}

export interface SawPlan<B extends Bar = Bar> {
  /** The stocked length that costs least in all; of equal ones the first. */
  readonly bar: B;
  /** One list of pieces for each bar, longest first; the fullest bars first. */
  readonly bars: readonly (readonly SawnLength[])[];
  /** Of all bars. */
  readonly cost: Amount;
  /** No plan on bars of this length needs fewer. */
  readonly barsBound: number;
  /** True when the plan is proved to need the fewest bars of this length. */
  readonly optimal: boolean;
  /** Longer than every bar less its trim: not in the plan. */
  readonly tooLong: readonly LengthWanted[];
}

/**
 * Which lengths to saw from which bars, all bars of one stocked length: the one that costs least.
 *
 * n pieces come out of a bar when they and the n - 1 cuts between them fit into its length less the
 * end trim; where something is left over beyond the last piece, that takes one cut more, which may
 * run out over the end of the bar. In short: each piece with a kerf, in the usable length with a kerf.
 *
 * Null when no bars are on offer. Lengths are compared to a millionth of a mm.
 */
export function planCuts<B extends Bar>(
  lengths: readonly LengthWanted[],
  bars: readonly B[],
): SawPlan<B> | null {
  const longest = Math.max(...bars.map(usable));
  const tooLong = lengths.filter(({ lengthMm }) => units(lengthMm) > longest);
  const wanted = lengths.filter(({ lengthMm }) => units(lengthMm) <= longest);
  let best: SawPlan<B> | null = null;
  for (const bar of bars) {
    if (wanted.some(({ lengthMm }) => units(lengthMm) > usable(bar))) continue;
    const plan = { ...planOn(bar, wanted), tooLong };
    if (best === null || plan.cost.lt(best.cost)) best = plan;
  }
  return best;
}

/** A millionth of a mm: whole numbers of these add up without rounding. */
const UNITS_PER_MM = 1e6;

function units(lengthMm: number): number {
  return Math.round(lengthMm * UNITS_PER_MM);
}

function usable({ lengthMm, endTrimMm }: Bar): number {
  return units(lengthMm) - units(endTrimMm);
}

function planOn<B extends Bar>(
  bar: B,
  wanted: readonly LengthWanted[],
): Omit<SawPlan<B>, "tooLong"> {
  const kerf = units(bar.sawKerfMm);
  const sizes = [...new Set(wanted.map(({ lengthMm }) => units(lengthMm)))].sort((a, b) => b - a);
  const queues = sizes.map((size) => wanted.filter(({ lengthMm }) => units(lengthMm) === size));
  const { patterns, bound } = fewestBars(
    sizes.map((size) => size + kerf),
    queues.map((queue) => queue.reduce((sum, { count }) => sum + count, 0)),
    usable(bar) + kerf,
  );
  return {
    bar,
    bars: namedBars(patterns, sizes, queues),
    cost: bar.price.times(patterns.length),
    barsBound: bound,
    optimal: patterns.length === bound,
  };
}

/** Gives the pieces of each size their names, in the order asked for; the fullest bars come first. */
function namedBars(
  patterns: readonly BarPattern[],
  sizes: readonly number[],
  queues: readonly (readonly LengthWanted[])[],
): readonly (readonly SawnLength[])[] {
  const names = queues.map((queue) =>
    queue.flatMap(({ name, lengthMm, count }) =>
      Array.from({ length: count }, () => ({ name, lengthMm })),
    ),
  );
  const filled = (pattern: BarPattern) =>
    pattern.reduce((sum, count, size) => sum + count * sizes[size]!, 0);
  const taken = sizes.map(() => 0);
  return [...patterns]
    .sort((a, b) => filled(b) - filled(a))
    .map((pattern) =>
      pattern.flatMap((count, size) => {
        const start = taken[size]!;
        taken[size] = start + count;
        return names[size]!.slice(start, start + count);
      }),
    );
}
