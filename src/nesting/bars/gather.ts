import { roomLeft, weightIn, type BarPattern, type CutOrder, type Sawing } from "./types.ts";

/**
 * The same bars, by kind and the fullest first, with what is left over gathered: pieces of the bar
 * with most room go into the others where they fit, or change with shorter ones there.
 */
export function gathered({ bars, missing }: Sawing, order: CutOrder): Sawing {
  const sawn = bars.map(({ kind, counts }) => ({ kind, counts: [...counts] }));
  const room = (bar: BarPattern): number => roomLeft(bar, order);
  const emptiest = sawn.reduce<Open | null>(
    (best, bar) => (best === null || room(bar) > room(best) ? bar : best),
    null,
  );
  if (emptiest) {
    const others = sawn.filter((bar) => bar !== emptiest);
    while (shift(emptiest, others, order));
  }
  return { bars: sawn.toSorted((a, b) => a.kind - b.kind || room(a) - room(b)), missing };
}

interface Open {
  readonly kind: number;
  readonly counts: number[];
}

/** The one change that empties the bar most; false where there is none. */
function shift(from: Open, others: readonly Open[], order: CutOrder): boolean {
  let best: { readonly to: Open; readonly size: number; readonly back: number | null } | null =
    null;
  let most = 0;
  const { sizes, kinds } = order;
  for (const to of others) {
    const room = roomLeft(to, order);
    for (const [size, length] of sizes.entries()) {
      if (from.counts[size] === 0) continue;
      if (weightIn(kinds[to.kind]!, length) <= room && weightIn(kinds[from.kind]!, length) > most) {
        best = { to, size, back: null };
        most = weightIn(kinds[from.kind]!, length);
      }
      for (const [back, shorter] of sizes.entries()) {
        if (to.counts[back] === 0 || length - shorter > room || length - shorter <= most) continue;
        best = { to, size, back };
        most = length - shorter;
      }
    }
  }
  if (!best) return false;
  move(from, best.to, best.size);
  if (best.back !== null) move(best.to, from, best.back);
  return true;
}

function move(from: Open, to: Open, size: number): void {
  from.counts[size]!--;
  to.counts[size]!++;
}
