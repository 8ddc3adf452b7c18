import type { Waiting } from "./waiting.ts";
import type { Ways } from "./ways.ts";

/** A way for each stop: always on to the nearest that waits for nothing more. */
export function nearestFirst(ways: Ways, { before, after }: Waiting): number[] {
  const waitsFor = before.map(({ length }) => length);
  const ready = new Set([...before.keys()].filter((stop) => waitsFor[stop] === 0));
  const tour: number[] = [];
  let at = ways.first[ways.home]!;
  while (ready.size > 0) {
    at = nearestWay(ways, at, ready);
    const stop = ways.stopOf[at]!;
    tour.push(at);
    ready.delete(stop);
    for (const later of after[stop]!) {
      waitsFor[later]! -= 1;
      if (waitsFor[later] === 0) ready.add(later);
    }
  }
  return tour;
}

function nearestWay(ways: Ways, at: number, ready: ReadonlySet<number>): number {
  let [found, least] = [0, Infinity];
  for (const stop of ready) {
    if (ways.fromWay(at, stop) >= least) continue;
    for (let way = ways.first[stop]!; way < ways.first[stop + 1]!; way += 1) {
      const mm = ways.between(at, way);
      if (mm < least) [found, least] = [way, mm];
    }
  }
  return found;
}
