import { legsOf, pathLength, reversePath } from "../geometry/path.ts";
import { distance } from "../geometry/point.ts";
import type { Point, Segment } from "../geometry/types.ts";
import type { PlacedPath } from "./drawn-line.ts";
import { LooseEnds } from "./loose-ends.ts";
import { JOIN_MM, tidied, withEndAt } from "./weld.ts";

/**
 * Joins loose lines end to end where ends meet within {@link JOIN_MM}, nearest ends first, earlier
 * lines before later ones. Chains that come back to their start are closed; the others stay open.
 * A chain keeps the place of its first line.
 */
export function joined(loose: readonly PlacedPath[]): PlacedPath[] {
  const waiting = new LooseEnds(loose);
  const chains: PlacedPath[] = [];
  for (let first = waiting.takeFirst(); first !== null; first = waiting.takeFirst()) {
    const ahead = grown(first, waiting);
    const back = ahead.path.closed ? ahead : grown(reversed(ahead), waiting);
    chains.push(back.path.closed ? back : reversed(back));
  }
  return chains;
}

/** The chain with all lines added that follow on its end; takes those from `waiting`. */
function grown(first: PlacedPath, waiting: LooseEnds): PlacedPath {
  const chain = new Chain(first);
  while (!chain.isRound) {
    const next = waiting.takeNearest(chain.end);
    if (next === null) break;
    chain.append(next.isReversed ? reversed(next.line) : next.line);
  }
  return chain.line;
}

function reversed(line: PlacedPath): PlacedPath {
  return { ...line, path: reversePath(line.path) };
}

/** A line that grows at its end. */
class Chain {
  readonly #first: PlacedPath;
  readonly #segments: Segment[];
  /** Where the last segment begins. */
  #lastFrom: Point;
  #lengthMm: number;

  constructor(first: PlacedPath) {
    this.#first = first;
    this.#segments = [...first.path.segments];
    this.#lastFrom = legsOf(first.path).at(-1)?.from ?? first.path.start;
    this.#lengthMm = pathLength(first.path);
  }

  get end(): Point {
    return this.#segments.at(-1)?.to ?? this.#first.path.start;
  }

  /** Whether it is back at its start; one as short as two gaps has not been away. */
  get isRound(): boolean {
    const gap = distance(this.end, this.#first.path.start);
    return this.#first.path.closed || (gap <= JOIN_MM && this.#lengthMm > 2 * JOIN_MM);
  }

  /** The end is moved to the start of the next line. */
  append({ path }: PlacedPath): void {
    const last = this.#segments.pop();
    const segments = last === undefined ? [] : [last];
    const moved = withEndAt({ start: this.#lastFrom, segments, closed: false }, path.start);
    this.#segments.push(...moved.segments);
    for (const segment of path.segments) this.#segments.push(segment);
    this.#lastFrom = legsOf(path).at(-1)?.from ?? path.start;
    this.#lengthMm += pathLength(path);
  }

  get line(): PlacedPath {
    const { place, path } = this.#first;
    return {
      place,
      path: tidied({ start: path.start, segments: this.#segments, closed: path.closed }),
    };
  }
}
