import type { Random } from "../random.ts";

/**
 * Shares from 0 to 1 for some inputs that do not depend on each other: each input has one draw in every
 * n-th part of its range, in an order of its own (Latin hypercube sampling: McKay, Beckman and Conover,
 * Technometrics 21, 1979). Its extremes come up as often as they should, however few draws there are.
 * @returns for each input `draws` shares.
 */
export function latinHypercube(
  inputs: number,
  draws: number,
  random: Random,
): readonly Float64Array[] {
  return Array.from({ length: inputs }, () => {
    const shares = Float64Array.from({ length: draws }, (_, at) => (at + random()) / draws);
    shuffle(shares, random);
    return shares;
  });
}

/** Every order equally often (Durstenfeld, Algorithm 235, Communications of the ACM 7, 1964). */
function shuffle(values: Float64Array, random: Random): void {
  for (let at = values.length - 1; at > 0; at -= 1) {
    const other = Math.floor(random() * (at + 1));
    const kept = values[at]!;
    values[at] = values[other]!;
    values[other] = kept;
  }
}
