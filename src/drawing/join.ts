import { pathEnd, reversePath } from "../geometry/path.ts";
import { distance } from "../geometry/point.ts";
import type { Point } from "../geometry/types.ts";
import type { PlacedPath } from "./drawn-line.ts";
import { JOIN_MM, tidied, withEndAt } from "./weld.ts";

/**
 * Joins loose lines end to end where ends meet within {@link JOIN_MM}, nearest ends first, earlier
 * lines before later ones. Chains that come back to their start are closed; the others stay open.
 * A chain keeps the place of its first line.
 */
export function joined(loose: readonly PlacedPath[]): PlacedPath[] {
  const waiting = [...loose];
  const chains: PlacedPath[] = [];
  for (let first = waiting.shift(); first !== undefined; first = waiting.shift()) {
    const ahead = grown(first, waiting);
    const back = ahead.path.closed ? ahead : grown(reversed(ahead), waiting);
    chains.push(back.path.closed ? back : reversed(back));
  }
  return chains;
}

/** The chain with all lines added that follow on its end; takes those from `waiting`. */
function grown(chain: PlacedPath, waiting: PlacedPath[]): PlacedPath {
  let growing = closedIfRound(chain);
  while (!growing.path.closed) {
    const next = takeNext(pathEnd(growing.path), waiting);
    if (next === null) return growing;
    growing = closedIfRound(appended(growing, next));
  }
  return growing;
}

function closedIfRound(chain: PlacedPath): PlacedPath {
  return { ...chain, path: tidied(chain.path) };
}

/** The waiting line with the nearest end, turned so that it starts there. */
function takeNext(end: Point, waiting: PlacedPath[]): PlacedPath | null {
  let best = { index: -1, gap: Infinity, reverse: false };
  waiting.forEach(({ path }, index) => {
    const gaps = [distance(end, path.start), distance(end, pathEnd(path))] as const;
    const gap = Math.min(...gaps);
    if (gap <= JOIN_MM && gap < best.gap) best = { index, gap, reverse: gaps[1] < gaps[0] };
  });
  const [next] = best.index < 0 ? [] : waiting.splice(best.index, 1);
  if (next === undefined) return null;
  return best.reverse ? reversed(next) : next;
}

function reversed(line: PlacedPath): PlacedPath {
  return { ...line, path: reversePath(line.path) };
}

function appended(chain: PlacedPath, next: PlacedPath): PlacedPath {
  const reaching = withEndAt(chain.path, next.path.start);
  const segments = [...reaching.segments, ...next.path.segments];
  return { place: chain.place, path: { start: reaching.start, segments, closed: false } };
}
