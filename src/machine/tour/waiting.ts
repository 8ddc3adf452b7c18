import type { TourStop } from "./types.ts";

/** Which stops wait for which, directly or by way of others. */
export interface Waiting {
  /** For each stop those that must come earlier. */
  readonly before: readonly (readonly number[])[];
  /** For each stop those that must come later. */
  readonly after: readonly (readonly number[])[];
}

/** @throws RangeError when stops wait for each other in a circle. */
export function waitingOf(stops: readonly TourStop[]): Waiting {
  const known: (readonly number[] | undefined)[] = stops.map(() => undefined);
  const open = new Set<number>();
  const earlier = (stop: number): readonly number[] => {
    const done = known[stop];
    if (done !== undefined) return done;
    if (open.has(stop)) throw new RangeError("stops wait for each other in a circle");
    open.add(stop);
    const all = new Set<number>();
    for (const one of stops[stop]?.before ?? []) {
      all.add(one);
      for (const other of earlier(one)) all.add(other);
    }
    open.delete(stop);
    return (known[stop] = [...all]);
  };
  const before = stops.map((_, stop) => earlier(stop));
  const after: number[][] = stops.map(() => []);
  for (const [stop, all] of before.entries()) for (const one of all) after[one]?.push(stop);
  return { before, after };
}
