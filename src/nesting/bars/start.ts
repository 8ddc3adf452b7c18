import {
  costOf,
  missingIn,
  weightIn,
  type BarPattern,
  type CutOrder,
  type Sawing,
} from "./types.ts";

/** Whether one sawing leaves fewer pieces without a bar than another, or as many for less. */
export function better(one: Sawing, other: Sawing, { kinds }: Pick<CutOrder, "kinds">): boolean {
  const more = missingIn(one) - missingIn(other);
  return more < 0 || (more === 0 && costOf(one, kinds) < costOf(other, kinds));
}

/**
 * A sawing to begin with: longest first, each piece into the first bar with room, else into a new
 * bar of the preferred kind; the best of doing so with each kind preferred. Then every bar becomes
 * the cheapest that holds what is sawn from it.
 */
export function firstFit(order: CutOrder): Sawing {
  const tried = order.kinds.map((_, kind) => cheapened(filled(order, kind), order));
  return tried.reduce((best, one) => (better(one, best, order) ? one : best), {
    bars: [],
    missing: order.wanted,
  });
}

function filled(order: CutOrder, preferred: number): Sawing {
  const { sizes, wanted, kinds } = order;
  const left = kinds.map(({ limit }) => limit);
  const bars: { kind: number; room: number; counts: number[] }[] = [];
  const missing = sizes.map(() => 0);
  const kindsTried = [preferred, ...byRate(order).filter((kind) => kind !== preferred)];
  for (const [size, length] of sizes.entries()) {
    let first = 0;
    for (let piece = 0; piece < wanted[size]!; piece++) {
      const fits = ({ kind, room }: { kind: number; room: number }): boolean =>
        weightIn(kinds[kind]!, length) <= room;
      while (first < bars.length && !fits(bars[first]!)) first++;
      if (first === bars.length) {
        const kind = kindsTried.find(
          (k) => left[k]! > 0 && fits({ kind: k, room: kinds[k]!.capacity }),
        );
        if (kind === undefined) {
          missing[size] = wanted[size]! - piece;
          break;
        }
        left[kind]!--;
        bars.push({ kind, room: kinds[kind]!.capacity, counts: sizes.map(() => 0) });
      }
      const bar = bars[first]!;
      bar.room -= weightIn(kinds[bar.kind]!, length);
      bar.counts[size]!++;
    }
  }
  return { bars: bars.map(({ kind, counts }) => ({ kind, counts })), missing };
}

/** The kinds by their cost for a length. */
function byRate({ kinds }: CutOrder): readonly number[] {
  const rate = (kind: number): number => kinds[kind]!.cost / kinds[kind]!.capacity;
  return [...kinds.keys()].toSorted((a, b) => rate(a) - rate(b) || a - b);
}

/** Each bar, the emptiest first, changed for the cheapest kind that is left and long enough. */
function cheapened({ bars, missing }: Sawing, { sizes, kinds }: CutOrder): Sawing {
  const left = kinds.map(
    ({ limit }, kind) => limit - bars.filter((bar) => bar.kind === kind).length,
  );
  const filling = ({ counts }: BarPattern, kind: number): number =>
    counts.reduce((sum, count, size) => sum + count * weightIn(kinds[kind]!, sizes[size]!), 0);
  const byFilling = bars.toSorted((a, b) => filling(a, a.kind) - filling(b, b.kind));
  const changed = byFilling.map((bar) => {
    let best = bar.kind;
    for (const [kind, { cost, capacity }] of kinds.entries())
      if (left[kind]! > 0 && cost < kinds[best]!.cost && filling(bar, kind) <= capacity)
        best = kind;
    left[bar.kind]!++;
    left[best]!--;
    return { ...bar, kind: best };
  });
  return { bars: changed, missing };
}
