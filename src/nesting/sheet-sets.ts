import { Amount } from "../money.ts";

/** Which sets of sheets could take some copies for less than they cost now. */

/** A size of sheet as sets are made of it. */
export interface SizeOffered {
  readonly price: Amount;
  /** What copies on one sheet take at most together, mm2. */
  readonly areaMm2: number;
  /** Sheets there are of it. */
  readonly most: number;
  /** By shape: whether it takes a copy. */
  readonly fits: readonly boolean[];
}

/** A set of sheets: how many of each size. */
export interface SheetSet {
  readonly counts: readonly number[];
  readonly cost: Amount;
  readonly sheets: number;
  /** What copies take of what the sheets offer, above 0 to 1: the higher, the harder to lay. */
  readonly fill: number;
}

/**
 * All sets that cost less than `limit`, or as much with fewer sheets, on which the areas alone do not
 * rule the copies out: in all, and for those that go on few sizes. In no order that means anything.
 * Where there are very many sets only some are given.
 *
 * @param areasMm2 by shape, what all its copies take; 0 for shapes without copies.
 */
export function setsBelow(
  sizes: readonly SizeOffered[],
  areasMm2: readonly number[],
  limit: { readonly cost: Amount; readonly sheets: number },
): readonly SheetSet[] {
  const needs = needsOf(sizes, areasMm2);
  const areaMm2 = areasMm2.reduce((sum, area) => sum + area, 0);
  const order = [...sizes.keys()].sort((a, b) => sizes[b]!.price.cmp(sizes[a]!.price) || a - b);
  const counts = sizes.map(() => 0);
  const sets: SheetSet[] = [];
  let branches = 0;
  const prices = sizes.map(({ price }) => price.toNumber());
  // Sums of many prices as numbers are only so exact: what is near the limit is added up anew.
  const most = limit.cost.toNumber() * (1 + ROUNDING);
  const branch = (at: number, about: number, sheets: number, offeredMm2: number): void => {
    if (++branches > MOST_BRANCHES) return;
    const index = order[at];
    if (index === undefined) {
      const fill = areaMm2 / offeredMm2;
      if (sheets === 0 || fill > 1 || !areMet(needs, sizes, counts)) return;
      const cost = costOfAll(sizes, counts);
      if (isBetter(cost, sheets, limit)) sets.push({ counts: [...counts], cost, sheets, fill });
      return;
    }
    const { areaMm2: each, most: there } = sizes[index]!;
    for (let count = 0; count <= there; count++) {
      const [costs, offers] = [about + prices[index]! * count, offeredMm2 + count * each];
      // More of a size than could ever be filled is of no use.
      const before = offeredMm2 + (count - 1) * each;
      if (costs > most || (count > 1 && before * LEAST_FILL > areaMm2)) break;
      counts[index] = count;
      branch(at + 1, costs, sheets + count, offers);
    }
    counts[index] = 0;
  };
  branch(0, 0, 0, 0);
  return sets;
}

/** Branches looked into: some thousandths of a second. */
const MOST_BRANCHES = 20_000;
const ROUNDING = 1e-9;
/** Sets that are filled less than this have smaller ones beside them. */
const LEAST_FILL = 0.3;

function costOfAll(sizes: readonly SizeOffered[], counts: readonly number[]): Amount {
  return sizes.reduce((sum, { price }, size) => {
    const count = counts[size]!;
    return count === 0 ? sum : sum.plus(price.times(count));
  }, new Amount(0));
}

function isBetter(
  cost: Amount,
  sheets: number,
  limit: { readonly cost: Amount; readonly sheets: number },
): boolean {
  return cost.lt(limit.cost) || (cost.eq(limit.cost) && sheets < limit.sheets);
}

/** Area that must come from sheets of these sizes. */
interface Need {
  readonly sizes: readonly number[];
  readonly areaMm2: number;
}

/** For each kind of shape by the sizes that take it: it and all that go on no others. */
function needsOf(sizes: readonly SizeOffered[], areasMm2: readonly number[]): readonly Need[] {
  const wanted = [...areasMm2.keys()].filter((shape) => areasMm2[shape]! > 0);
  const takers = new Map<string, readonly number[]>();
  const kindOf = (shape: number): readonly number[] =>
    [...sizes.keys()].filter((size) => sizes[size]!.fits[shape]);
  for (const shape of wanted) takers.set(kindOf(shape).join(), kindOf(shape));
  return [...takers.values()].map((among) => ({
    sizes: among,
    areaMm2: wanted
      .filter((shape) => kindOf(shape).every((size) => among.includes(size)))
      .reduce((sum, shape) => sum + areasMm2[shape]!, 0),
  }));
}

function areMet(
  needs: readonly Need[],
  sizes: readonly SizeOffered[],
  counts: readonly number[],
): boolean {
  return needs.every(({ sizes: among, areaMm2 }) => {
    const offered = among.reduce((sum, size) => sum + counts[size]! * sizes[size]!.areaMm2, 0);
    return offered > 0 && offered >= areaMm2;
  });
}
