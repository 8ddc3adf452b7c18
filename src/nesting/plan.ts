import type { Preference } from "./open-sheet.ts";
import type { Random } from "../random.ts";
import type { Shape } from "./shapes.ts";

/** How one pass goes about it. */
export interface Plan {
  readonly batches: readonly Batch[];
  readonly preference: Preference;
  /** For each shape, which of its turns are tried, by number: all where there are few. */
  readonly turns: readonly ReadonlySet<number>[];
  /** How often a copy is first tried in one way drawn by lot, before all ways are: 0 to 1. */
  readonly whim: number;
  /** Whether copies are laid in couples where that is worth while and there is room for it. */
  readonly couples: boolean;
  readonly random: Random;
}

/** Copies of one shape that are laid one after the other. */
export interface Batch {
  readonly shape: number;
  readonly copies: number;
}

/**
 * The plan of a pass over so many copies of each shape: the first few are set, for they serve most
 * jobs; from then on another order near to that by size, another preference, some turns by lot.
 */
export function planFor(
  shapes: readonly Shape[],
  step: number,
  random: Random,
  copies: readonly number[] = shapes.map(({ piece }) => piece.copies),
): Plan {
  const set = SET_PASSES[step];
  return set === undefined
    ? variedPlan(shapes, step, random, copies)
    : setPlan(shapes, set, random, copies);
}

/** What "large" may mean. */
const BY_AREA = ({ outerAreaMm2 }: Shape): number => outerAreaMm2;
const BY_LENGTH = ({ turns }: Shape): number => longestSide(turns[0]!.box) ** 2;
const SIZES = [BY_AREA, BY_LENGTH];

interface SetPass {
  readonly size: (shape: Shape) => number;
  readonly preference: Preference;
  readonly couples: boolean;
}

const SET_PASSES: readonly SetPass[] = [
  { size: BY_AREA, preference: { axis: "y", end: 1 }, couples: true },
  { size: BY_LENGTH, preference: { axis: "y", end: 0 }, couples: true },
  { size: BY_AREA, preference: { axis: "x", end: 0 }, couples: false },
];

function setPlan(
  shapes: readonly Shape[],
  { size, preference, couples }: SetPass,
  random: Random,
  copies: readonly number[],
): Plan {
  const batches = shapes.map((shape, index) => ({
    shape: index,
    copies: copies[index]!,
    size: size(shape),
  }));
  const turns = shapes.map((shape) => numbersOf(shape.turns.slice(0, waysFor(shapes))));
  return { batches: bySize(batches), preference, turns, whim: 0, couples, random };
}

function variedPlan(
  shapes: readonly Shape[],
  step: number,
  random: Random,
  copies: readonly number[],
): Plan {
  const size = SIZES[step % SIZES.length]!;
  const spread = SPREADS[step % SPREADS.length]!;
  const batches = shapes.flatMap((shape, index) =>
    split(copies[index]!, 1 + Math.floor(random() * MOST_BATCHES)).map((share) => ({
      shape: index,
      copies: share,
      size: size(shape) * Math.exp(spread * (2 * random() - 1)),
    })),
  );
  return {
    batches: bySize(batches),
    preference: PREFERENCES[step % PREFERENCES.length]!,
    turns: shapes.map((shape) =>
      numbersOf(
        step % WIDEN_EVERY === 0
          ? someOf(shape.turns, waysFor(shapes), random)
          : shape.turns.slice(0, waysFor(shapes)),
      ),
    ),
    whim: WHIMS[step % WHIMS.length]!,
    couples: step % SINGLES_EVERY !== 0,
    random,
  };
}

/** Every so many passes copies are laid one by one. */
const SINGLES_EVERY = 3;
/** Every so many passes the turns are drawn by lot from all there are. */
const WIDEN_EVERY = 4;
/** More ways to lay a shape than this are not tried in one pass: its time goes with them. */
export const MOST_WAYS = 8;
/** Of many shapes fewer turns are tried, down to the two along the sheet, for the same reason. */
const WAYS_OF_ALL = 192;
const LEAST_WAYS = 2;

function waysFor({ length }: readonly Shape[]): number {
  return Math.max(LEAST_WAYS, Math.min(MOST_WAYS, Math.floor(WAYS_OF_ALL / length)));
}

function numbersOf(turns: Shape["turns"]): ReadonlySet<number> {
  return new Set(turns.map(({ number }) => number));
}

function someOf(turns: Shape["turns"], most: number, random: Random): Shape["turns"] {
  if (turns.length <= most) return turns;
  const drawn = turns.map((turn) => ({ turn, lot: random() })).sort((a, b) => a.lot - b.lot);
  return drawn.slice(0, most).map(({ turn }) => turn);
}

const PREFERENCES: readonly Preference[] = [
  { axis: "y", end: 1 },
  { axis: "x", end: 1 },
  { axis: "y", end: 0.5 },
  { axis: "y", end: 0 },
  { axis: "x", end: 0.5 },
];
/** How many times the copies of one shape may have their turn in a pass. */
const MOST_BATCHES = 3;
/** How far, as a power of e, a shape's size may be misjudged to vary the order. */
const SPREADS: readonly number[] = [0, 0.3, 0.6, 1.2];
/** How often copies are turned by lot, from pass to pass. */
const WHIMS: readonly number[] = [0, 0.5, 0.15];

function longestSide({ minX, minY, maxX, maxY }: Shape["turns"][number]["box"]): number {
  return Math.max(maxX - minX, maxY - minY);
}

/** Shares a number out as evenly as it goes, in no more shares than it has ones. */
function split(copies: number, shares: number): readonly number[] {
  const count = Math.min(copies, shares);
  return Array.from({ length: count }, (_, share) => Math.floor((copies + share) / count));
}

/** By falling size; equal ones as they came. */
function bySize(batches: readonly (Batch & { readonly size: number })[]): readonly Batch[] {
  return [...batches].sort((a, b) => b.size - a.size);
}
