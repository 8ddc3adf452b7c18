import { Amount } from "../../money.ts";
import { withBest, type Work } from "../../work.ts";
import { commonDivisor } from "../common-divisor.ts";
import { cheapestSawing } from "./cheapest.ts";
import { gathered } from "./gather.ts";
import { costOf, missingIn, roomLeft, type CutOrder, type Sawing } from "./types.ts";

/** Pieces of one length to be sawn from bars. */
export interface LengthWanted {
  readonly name: string;
  readonly lengthMm: number;
  /** 1 or more. */
  readonly count: number;
}

/** A length that bars can be had in. */
export interface Bar {
  readonly lengthMm: number;
  readonly price: Amount;
  /** Lost at each cut. */
  readonly sawKerfMm: number;
  /** Lost on each bar for its two ends, in all, with the cuts there. */
  readonly endTrimMm: number;
  /** Bars there are; null for as many as needed. */
  readonly onHand: number | null;
}

export interface SawnLength {
  readonly name: string;
  readonly lengthMm: number;
}

export interface SawnBar<B extends Bar = Bar> {
  readonly bar: B;
  /** Longest first. */
  readonly pieces: readonly SawnLength[];
  /** Good length left when all is sawn, the trim of both ends gone. */
  readonly leftMm: number;
}

export interface SawPlan<B extends Bar = Bar> {
  /** In the order of the lengths on offer, the fullest first. */
  readonly bars: readonly SawnBar<B>[];
  /** Of all bars. */
  readonly cost: Amount;
  /** Proven: no plan for these pieces costs less. The cost itself where the plan is the cheapest. */
  readonly costBound: Amount;
  /** Pieces that there is no bar for: too long for all, or no more bars on hand. */
  readonly missing: readonly LengthWanted[];
}

/**
 * Which lengths to saw from which bars, of all lengths on offer together: what costs least; of plans
 * that cost the same, one that takes less length of bars; then as much as possible of what is left
 * over in one bar.
 *
 * n pieces come out of a bar when they and the n - 1 cuts between them fit into its length less the
 * trim; where something is left over beyond the last piece, that takes one cut more, which may run
 * out over the end of the bar. In short: each piece with a kerf, in the usable length with a kerf.
 *
 * Lengths are compared to a millionth of a mm. The effort is bounded by a count of arithmetic, so
 * that the plan is the same on every machine.
 */
export function* planCuts<B extends Bar>(
  stage: string,
  lengths: readonly LengthWanted[],
  bars: readonly B[],
): Work<SawPlan<B>> {
  const whole = wholeNumbers(lengths, bars);
  const { order, prices } = whole;
  const planned = (sawing: Sawing, bound: number): SawPlan<B> => plan(whole, bars, sawing, bound);
  if (order.sizes.length === 0) return planned({ bars: [], missing: [] }, 0);
  const cheapest = yield* withBest(
    cheapestSawing(order, {
      stage,
      start: null,
      budget: null,
      step: divisorOf(prices),
      effort: EFFORT,
    }),
    (best) => planned(best, 0),
  );
  const { sawing, bound } = cheapest;
  if (order.kinds.length < 2 || missingIn(sawing) > 0) return planned(sawing, bound);
  const shorter = yield* withBest(shortestSawing(stage, whole, sawing), (best) =>
    planned(best, bound),
  );
  return planned(shorter, bound);
}

/** Together about three seconds for the hardest orders; most take a tenth of one. */
const EFFORT = 2.5e8;
const SHORTENING_EFFORT = 2e7;

/** Of sawings that cost no more, one that takes less length of bars. */
function* shortestSawing(
  stage: string,
  { order, barLengths }: Whole,
  start: Sawing,
): Work<Sawing, Sawing> {
  const byLength = {
    ...order,
    kinds: order.kinds.map((kind, index) => ({ ...kind, cost: barLengths[index]! })),
  };
  const { sawing } = yield* cheapestSawing(byLength, {
    stage: `${stage}, shorter bars`,
    start,
    budget: { each: order.kinds.map(({ cost }) => cost), most: costOf(start, order.kinds) },
    step: divisorOf(barLengths),
    effort: SHORTENING_EFFORT,
  });
  return sawing;
}

/** A millionth of a mm: whole numbers of these add up without rounding. */
const UNITS_PER_MM = 1e6;

function units(lengthMm: number): number {
  return Math.round(lengthMm * UNITS_PER_MM);
}

/** The order in whole numbers. */
interface Whole {
  readonly order: CutOrder;
  /** Of the bars. */
  readonly prices: readonly number[];
  readonly pricesPerUnit: Amount;
  readonly barLengths: readonly number[];
  /** For each size those who share it, in the order asked for. */
  readonly queues: readonly (readonly LengthWanted[])[];
  readonly tooLong: readonly LengthWanted[];
}

function wholeNumbers(lengths: readonly LengthWanted[], bars: readonly Bar[]): Whole {
  const usable = bars.map(({ lengthMm, endTrimMm }) => units(lengthMm) - units(endTrimMm));
  const longest = Math.max(0, ...usable);
  const wanted = lengths.filter(({ lengthMm }) => units(lengthMm) <= longest);
  const sizes = [...new Set(wanted.map(({ lengthMm }) => units(lengthMm)))].toSorted(
    (a, b) => b - a,
  );
  const queues = sizes.map((size) => wanted.filter(({ lengthMm }) => units(lengthMm) === size));
  const pricesPerUnit = new Amount(10).pow(
    Math.max(0, ...bars.map(({ price }) => price.decimalPlaces())),
  );
  const prices = bars.map(({ price }) => price.times(pricesPerUnit).toNumber());
  const kinds = bars.map(({ sawKerfMm, onHand }, index) => {
    const kerf = units(sawKerfMm);
    const limit = onHand ?? Infinity;
    return { capacity: usable[index]! + kerf, kerf, cost: prices[index]!, limit };
  });
  return {
    order: { sizes, kinds, wanted: queues.map(piecesIn) },
    prices,
    pricesPerUnit,
    barLengths: bars.map(({ lengthMm }) => units(lengthMm)),
    queues,
    tooLong: lengths.filter(({ lengthMm }) => units(lengthMm) > longest),
  };
}

function piecesIn(queue: readonly LengthWanted[]): number {
  return queue.reduce((sum, { count }) => sum + count, 0);
}

/** 1 where all are 0. */
function divisorOf(numbers: readonly number[]): number {
  return numbers.reduce((divisor, number) => commonDivisor(divisor, number), 0) || 1;
}

function plan<B extends Bar>(
  { order, pricesPerUnit, queues, tooLong }: Whole,
  bars: readonly B[],
  sawing: Sawing,
  bound: number,
): SawPlan<B> {
  const tidy = gathered(sawing, order);
  const names = new Names(queues);
  const sawn = tidy.bars.map((pattern) => {
    const { kerf } = order.kinds[pattern.kind]!;
    return {
      bar: bars[pattern.kind]!,
      pieces: pattern.counts.flatMap((count, size) => names.take(size, count)),
      leftMm: Math.max(0, roomLeft(pattern, order) - kerf) / UNITS_PER_MM,
    };
  });
  const missing = tidy.missing.flatMap((count, size) => counted(names.take(size, count)));
  return {
    bars: sawn,
    cost: new Amount(costOf(sawing, order.kinds)).div(pricesPerUnit),
    costBound: new Amount(bound).div(pricesPerUnit),
    missing: [...tooLong, ...missing],
  };
}

/** Gives the pieces of each size their names, in the order asked for. */
class Names {
  readonly #all: readonly (readonly SawnLength[])[];
  readonly #taken: number[];

  constructor(queues: readonly (readonly LengthWanted[])[]) {
    this.#taken = queues.map(() => 0);
    this.#all = queues.map((queue) =>
      queue.flatMap(({ name, lengthMm, count }) =>
        Array.from({ length: count }, () => ({ name, lengthMm })),
      ),
    );
  }

  take(size: number, count: number): readonly SawnLength[] {
    const start = this.#taken[size]!;
    this.#taken[size] = start + count;
    return this.#all[size]!.slice(start, start + count);
  }
}

function counted(pieces: readonly SawnLength[]): readonly LengthWanted[] {
  return [...new Set(pieces.map(({ name }) => name))].map((name) => {
    const same = pieces.filter((piece) => piece.name === name);
    return { ...same[0]!, count: same.length };
  });
}
