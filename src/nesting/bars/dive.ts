import { settled, type Part } from "./parts.ts";
import type { Relaxation, Relaxed } from "./relaxation.ts";
import { firstFit } from "./start.ts";
import type { BarPattern, CutOrder, Sawing } from "./types.ts";

export interface DiveOptions {
  /** Of the budget, by some bars. */
  readonly spent: (bars: readonly BarPattern[]) => number;
  readonly offer: (sawing: Sawing) => void;
}

/**
 * Whole sawings near a relaxed one: the whole parts of its numbers of bars are taken, what is left
 * is relaxed again, and so on; where there are no whole parts, one bar of the pattern used most. At each
 * step we also see what comes of fitting in the rest piece by piece. All of them are offered.
 */
export function dive(
  relaxation: Relaxation,
  order: CutOrder,
  from: Part,
  first: Relaxed,
  { spent, offer }: DiveOptions,
): void {
  let part: Part = from;
  let relaxed = first;
  offer(finished(order, part));
  while (part.left.some((count) => count > 0) && !relaxation.spent) {
    const next = takeWhole(part, relaxed, order);
    if (next === part) break;
    part = next;
    offer(finished(order, part));
    if (part.left.some((count) => count > 0))
      relaxed = relaxation.solve(part, spent(part.fixed), Infinity);
  }
}

function finished(order: CutOrder, part: Part): Sawing {
  const rest = fitRest(order, part);
  return { bars: [...part.fixed, ...rest.bars], missing: rest.missing };
}

/** What no whole bars were found for, longest first into bars that are left. */
function fitRest(order: CutOrder, { left, most }: Part): Sawing {
  return firstFit({
    ...order,
    wanted: left,
    kinds: order.kinds.map((kind, index) => ({ ...kind, limit: most[index]! })),
  });
}

function takeWhole(from: Part, { used }: Relaxed, order: CutOrder): Part {
  const byBars = used
    .filter(({ pattern }) => pattern.counts.some((count) => count > 0))
    .toSorted((a, b) => b.bars - a.bars);
  let part = from;
  for (const { pattern, bars } of byBars)
    part = take(part, pattern, Math.floor(bars + WHOLE), order);
  if (part !== from) return part;
  for (const { pattern } of byBars) {
    part = take(from, pattern, 1, order);
    if (part !== from) return part;
  }
  return part;
}

/** As many bars as are wanted and there are; of the last what is left to saw. */
function take(part: Part, pattern: BarPattern, bars: number, order: CutOrder): Part {
  const full = pattern.counts.map((count, size) =>
    count === 0 ? Infinity : Math.floor(part.left[size]! / count),
  );
  const wanted = Math.min(bars, part.most[pattern.kind]!);
  const taken = Math.min(wanted, ...full);
  const rest = taken > 0 ? settled(part, pattern, taken, order) : part;
  if (taken === wanted) return rest;
  const counts = pattern.counts.map((count, size) => Math.min(count, rest.left[size]!));
  if (counts.every((count) => count === 0)) return rest;
  return settled(rest, { ...pattern, counts }, 1, order);
}

const WHOLE = 1e-6;
