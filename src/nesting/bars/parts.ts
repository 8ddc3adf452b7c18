import { patternKey, type Relaxed, type Restricted } from "./relaxation.ts";
import type { BarPattern, CutOrder } from "./types.ts";

/** A part of the search: some bars settled, the rest restricted. */
export interface Part extends Restricted {
  readonly fixed: readonly BarPattern[];
  readonly fixedCost: number;
  /** A whole cost; of what it was split from until it is relaxed itself. */
  readonly bound: number;
}

/**
 * Parts that together hold every whole solution of this one; none where the relaxation is whole.
 * Patterns hold exactly what is sawn, so that "so many bars of this pattern" means the same in
 * whatever remains.
 */
export function split(part: Part, { used }: Relaxed, order: CutOrder): readonly Part[] {
  return splitByKind(part, used, order) ?? splitByPattern(part, used, order);
}

/** Takes away what is sawn from some bars of one pattern. */
export function settled(part: Part, pattern: BarPattern, bars: number, order: CutOrder): Part {
  const { kind, counts } = pattern;
  const lessIn = (amounts: readonly number[]): readonly number[] =>
    amounts.map((amount, index) => (index === kind ? Math.max(0, amount - bars) : amount));
  const key = patternKey(pattern);
  const cap = part.caps.get(key);
  return {
    ...part,
    left: part.left.map((count, size) => count - bars * counts[size]!),
    least: lessIn(part.least),
    most: lessIn(part.most),
    caps: cap === undefined ? part.caps : new Map([...part.caps, [key, cap - bars]]),
    fixed: [...part.fixed, ...Array.from({ length: bars }, () => pattern)],
    fixedCost: part.fixedCost + bars * order.kinds[kind]!.cost,
  };
}

type Used = Relaxed["used"];

function splitByKind(part: Part, used: Used, { kinds }: CutOrder): readonly Part[] | null {
  const bars = kinds.map((_, kind) =>
    used.reduce((sum, one) => sum + (one.pattern.kind === kind ? one.bars : 0), 0),
  );
  // One kind alone is held by the rounding of the bound.
  if (kinds.length < 2) return null;
  const kind = mostSplit(bars);
  if (kind === null) return null;
  const floor = Math.floor(bars[kind]!);
  const changed = (amounts: readonly number[], to: number): readonly number[] =>
    amounts.map((amount, index) => (index === kind ? to : amount));
  return [
    { ...part, most: changed(part.most, floor) },
    { ...part, least: changed(part.least, floor + 1) },
  ];
}

function splitByPattern(part: Part, used: Used, order: CutOrder): readonly Part[] {
  const index = mostSplit(used.map(({ bars }) => bars));
  if (index === null) return [];
  const { pattern, bars } = used[index]!;
  const floor = Math.floor(bars);
  const fewer = { ...part, caps: new Map([...part.caps, [patternKey(pattern), floor]]) };
  const enough = pattern.counts.every((count, size) => count * (floor + 1) <= part.left[size]!);
  return enough ? [fewer, settled(part, pattern, floor + 1, order)] : [fewer];
}

/** Index of the number with the largest fraction, or null where all are whole. */
function mostSplit(numbers: readonly number[]): number | null {
  let chosen: number | null = null;
  let largest = WHOLE;
  for (const [index, number] of numbers.entries()) {
    const fraction = number - Math.floor(number);
    if (fraction <= largest || fraction >= 1 - WHOLE) continue;
    chosen = index;
    largest = fraction;
  }
  return chosen;
}

/** A number this close to a whole one is that. */
const WHOLE = 1e-6;
