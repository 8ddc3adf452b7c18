/**
 * An entry of the list that copies are laid by: four times the number of a kind, and how the copy would
 * like to lie.
 */

/** It likes best to lie turned, where that fits as well. */
export const TURNED = 1;
/** It is laid where it fits so, before what fits better. */
export const FIRST = 2;

export function entryOf(kind: number): number {
  return 4 * kind;
}

export function kindOf(entry: number): number {
  return entry >> 2;
}
