import { Amount } from "../money.ts";
import { areaOffered, areaTaken } from "./cost-bound.ts";
import type { FilledSheet } from "./filled.ts";
import { sheetLength } from "./lengths.ts";
import type { Random } from "../random.ts";
import type { Shape } from "./shapes.ts";
import { setsBelow, type SheetSet, type SizeOffered } from "./sheet-sets.ts";
import type { Nested, Ready } from "./size.ts";
import { costOf, type Tried } from "./tried.ts";

/** Which sheets of a nest are given up, and which set of others is to take what lies on them. */

/** What the search works on and finds; the caller keeps what is better. */
export interface Mixing {
  /** The best nest of each size bought so far. */
  readonly tried: readonly Tried[];
  /** The best of several sizes, or with offcuts. */
  readonly mix: Tried | null;
  /** How often a set was tried for the same copies. */
  readonly attempts: Map<string, number>;
}

/** Sheets taken out of a nest, by their numbers: all, the emptiest, or a few by lot, in turn. */
export function partOf(
  { filled: { sheets } }: Tried,
  attempt: number,
  random: Random,
): Set<number> {
  const all = [...sheets.keys()];
  const kind = attempt % KINDS_OF_PARTS;
  if (kind % 2 === 0 && all.length <= MOST_AT_ONCE) return new Set(all);
  if (kind === 1) return leastFilled(sheets, 1);
  const some = kind === 3 ? FEW : MOST_AT_ONCE;
  const drawn = all.map((sheet) => ({ sheet, lot: random() })).sort((a, b) => a.lot - b.lot);
  return new Set(drawn.slice(0, some).map(({ sheet }) => sheet));
}

/** The numbers of so many sheets with the fewest copies on them. */
export function leastFilled(sheets: readonly FilledSheet[], count: number): Set<number> {
  const least = (a: number, b: number): number =>
    sheets[a]!.placed.length - sheets[b]!.placed.length || b - a;
  return new Set([...sheets.keys()].sort(least).slice(0, count));
}

export const KINDS_OF_PARTS = 4;
/** Sheets taken out together. */
const MOST_AT_ONCE = 8;
const FEW = 2;

/** A set of sheets to be filled with what lies on a part of a nest. */
export interface Goal {
  readonly set: SheetSet;
  /** By shape. */
  readonly copies: readonly number[];
  readonly kept: readonly FilledSheet[];
  readonly key: string;
}

export interface Search {
  readonly best: Tried;
  readonly part: ReadonlySet<number>;
  /** How often sets were tried in vain in this round, by their keys. */
  readonly failed: ReadonlyMap<string, number>;
  readonly known: KnownSets;
  /** How much fuller than before sheets may well become, a share of their area. */
  readonly optimism: number;
}

/** Sets that were looked up in this round, by what they are for. */
export type KnownSets = Map<string, readonly SheetSet[]>;

/** The most promising set for what lies on the part; null where none is worth trying. */
export function goalFor(
  { tried, meter }: Nested & Mixing,
  { shapes, sizes }: Ready,
  { best, part, failed, known, optimism }: Search,
): Goal | null {
  const { sheets } = best.filled;
  const taken = sheets.filter((_, index) => part.has(index));
  const kept = sheets.filter((_, index) => !part.has(index));
  const copies = shapes.map((_, shape) => copiesOn(taken, shape));
  const takes = takenBy(shapes, sizes);
  const limit = {
    cost: taken.reduce((sum, sheet) => sum.plus(priceOf(sheet)), new Amount(0)),
    sheets: taken.length,
  };
  const offered = sizes.map(({ bed, most }): SizeOffered => {
    const { choice } = bed;
    const its = kept.filter((sheet) => sheet.choice === choice).length;
    return {
      // A panel goes by its share: what is found is compared by what is bought.
      price: choice.price.div(choice.panels ?? 1),
      areaMm2: choice.form === "sheet" ? areaOffered(choice) : 0,
      most: choice.form === "sheet" ? Math.max(0, most - its) : 0,
      fits: bed.singles.map((ways) => ways.length > 0),
    };
  });
  const areas = copies.map((count, shape) => count * takes[shape]!);
  const density = densityOf(tried, takes);
  const key = ({ counts }: SheetSet): string => `${copies.join()} on ${counts.join()}`;
  const whole = best.nest.sheetCost.toNumber();
  let most = LEAST_PROMISE;
  let set: SheetSet | null = null;
  for (const one of setsFor(offered, areas, limit, known)) {
    meter.spend(SET);
    const saved = whole === 0 ? 0 : limit.cost.minus(one.cost).toNumber() / whole;
    const fewer = (HANDLING * (limit.sheets - one.sheets)) / sheets.length;
    const likely = 1 / (1 + Math.exp((one.fill - density - optimism) / SPREAD));
    const promise = (saved + fewer) * likely * PATIENCE ** (failed.get(key(one)) ?? 0);
    if (promise <= most) continue;
    [most, set] = [promise, one];
  }
  return set === null ? null : { set, copies, kept, key: key(set) };
}

/** Weighing a set takes so much of the time of making a polygon. */
const SET = 3;

function setsFor(
  offered: readonly SizeOffered[],
  areas: readonly number[],
  limit: Parameters<typeof setsBelow>[2],
  known: KnownSets,
): readonly SheetSet[] {
  const key = [...areas, limit.cost.toString(), ...offered.map(({ most }) => most)].join();
  const sets = known.get(key) ?? setsBelow(offered, areas, limit);
  known.set(key, sets);
  return sets;
}

/** Sets that promise less, as a share of the cost in all, are not tried. */
const LEAST_PROMISE = 1e-4;
/** A sheet less is worth so much of the cost in all, where it costs the same. */
const HANDLING = 0.01;
/** How sure it is how full sheets may become. */
const SPREAD = 0.03;
/** Each time that a set was tried in vain in a round it promises so much of what it did. */
const PATIENCE = 0.85;

export function copiesOn(sheets: readonly FilledSheet[], shape: number): number {
  return sheets.reduce(
    (sum, { placed }) => sum + placed.filter((copy) => copy.shape === shape).length,
    0,
  );
}

function priceOf({ choice, usedMm }: FilledSheet): Amount {
  return costOf(choice, { heightMm: sheetLength(choice, usedMm) });
}

/** By shape, the area that a copy takes. */
function takenBy(shapes: readonly Shape[], sizes: Ready["sizes"]): readonly number[] {
  const gapMm = Math.min(...sizes.map(({ bed }) => bed.choice.gapMm));
  const smallest = Math.min(...shapes.map(({ outerAreaMm2 }) => outerAreaMm2));
  return shapes.map(({ piece }) => areaTaken(piece, gapMm, smallest));
}

/** How full the fullest nest is, up to where its sheets are used. */
function densityOf(tried: readonly Tried[], takes: readonly number[]): number {
  return tried.reduce((most, { filled: { sheets } }) => {
    const taken = sheets.flatMap(({ placed }) => placed);
    const area = taken.reduce((sum, { shape }) => sum + takes[shape]!, 0);
    const offered = sheets.reduce((sum, { choice, usedMm }) => {
      const heightMm = Math.min(choice.heightMm ?? Infinity, usedMm + choice.marginMm);
      return sum + areaOffered({ ...choice, heightMm });
    }, 0);
    return offered > 0 ? Math.max(most, area / offered) : most;
  }, 0);
}
