import type { Opening } from "./fillings.ts";

/**
 * A filling that is of use, found fast, or null: depth first over the sizes by falling value for
 * their length, cut where even the rest of the bar filled at that rate can not do better, and where
 * it has gone on for long. What it gives need not be the best.
 */
export function quickFilling(
  weights: readonly number[],
  values: ArrayLike<number>,
  most: readonly number[],
  { room, above }: Opening,
): readonly number[] | null {
  const rate = (size: number): number => values[size]! / weights[size]!;
  const order = weights
    .flatMap((_, size) => (values[size]! > 0 && most[size]! > 0 ? [size] : []))
    .toSorted((a, b) => rate(b) - rate(a) || a - b);
  const counts = weights.map(() => 0);
  let best: { readonly counts: readonly number[]; readonly value: number } | null = null;
  let least = above;
  let branches = 0;
  const branch = (at: number, left: number, value: number): void => {
    branches++;
    if (value > least) {
      least = value;
      best = { counts: [...counts], value };
    }
    const size = order[at];
    if (size === undefined || branches > MOST_BRANCHES) return;
    if (value + left * rate(size) <= least) return;
    for (
      let count = Math.min(most[size]!, Math.floor(left / weights[size]!));
      count >= 0;
      count--
    ) {
      counts[size] = count;
      branch(at + 1, left - count * weights[size]!, value + count * values[size]!);
    }
    counts[size] = 0;
  };
  branch(0, room, 0);
  return (best as { readonly counts: readonly number[] } | null)?.counts ?? null;
}

const MOST_BRANCHES = 1000;
