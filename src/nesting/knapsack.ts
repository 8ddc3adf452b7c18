export interface BestPattern {
  readonly pattern: readonly number[];
  readonly value: number;
  /** False when the search was cut short: a better pattern may exist. */
  readonly exact: boolean;
}

/**
 * The most valuable filling of a bar: whole numbers of each size, at most `most` of each, weights
 * within `capacity`. Depth first over the sizes by falling value per length, cut where even the rest
 * of the bar filled at that rate can not do better.
 */
export function bestPattern(
  weights: readonly number[],
  values: readonly number[],
  most: readonly number[],
  capacity: number,
): BestPattern {
  const order = weights
    .map((_, index) => index)
    .filter((index) => values[index]! > 0)
    .sort((a, b) => values[b]! / weights[b]! - values[a]! / weights[a]! || a - b);
  const counts = weights.map(() => 0);
  let best: { pattern: readonly number[]; value: number } = { pattern: [...counts], value: 0 };
  let branches = 0;
  const branch = (at: number, room: number, value: number): void => {
    branches++;
    if (value > best.value) best = { pattern: [...counts], value };
    const index = order[at];
    if (index === undefined || branches > MOST_BRANCHES) return;
    const [weight, worth] = [weights[index]!, values[index]!];
    if (value + (room * worth) / weight <= best.value + TINY) return;
    for (let count = Math.min(most[index]!, Math.floor(room / weight)); count >= 0; count--) {
      counts[index] = count;
      branch(at + 1, room - count * weight, value + count * worth);
    }
    counts[index] = 0;
  };
  branch(0, capacity, 0);
  return { ...best, exact: branches <= MOST_BRANCHES };
}

const MOST_BRANCHES = 20_000;
/** Values that differ by less are equal: it saves proving it. */
const TINY = 1e-12;
