import type { Point } from "../../geometry/types.ts";
import { DistanceTable } from "./distance-table.ts";
import { areFew, shortestTour } from "./shortest.ts";
import { Passing } from "./passing.ts";
import type { TourStop } from "./types.ts";
import { waitingOf } from "./waiting.ts";
import type { Waiting } from "./waiting.ts";
import { Ways } from "./ways.ts";

/**
 * What no order of the stops can go below, from home through all phases one after the other and
 * back: the shortest tour itself where the stops are few, else as {@link treeBound}.
 * @param phases stops that wait for others wait for those of their own phase.
 * @param reachedMm length of a tour that is known; the nearer it is, the better the bound.
 */
export function leastTravel(
  phases: readonly (readonly TourStop[])[],
  home: Point,
  reachedMm: number,
): number {
  const { stops, phaseOf } = joined(phases);
  const ways = new Ways(stops, home, home);
  if (areFew(ways)) return ways.lengthOf(shortestTour(ways, waitingOf(inTurn(stops, phaseOf))));
  return treeBound(phases, home, reachedMm);
}

/**
 * A bound by the length of a tree that joins all stops, with both ways from home, made longer by
 * weights on the stops as far as they go (1-trees, M. Held, R. Karp, "The traveling-salesman problem
 * and minimum spanning trees", 1970 and 1971), and by what it costs to pass the stops.
 *
 * Hardly anything is made of what must wait for what, and a stop may still be passed by two of its
 * ways half each: the bound is about a quarter below what can be reached, more where contours are
 * large and near each other. At least one stop.
 */
export function treeBound(
  phases: readonly (readonly TourStop[])[],
  home: Point,
  reachedMm: number,
): number {
  const { stops, phaseOf } = joined(phases);
  const [ways, waiting] = [new Ways(stops, home, home), waitingOf(stops)];
  const table = new DistanceTable(ways, waiting, phaseOf);
  return ascend(ways, table, homeEnds(waiting, phaseOf), reachedMm);
}

interface Joined {
  readonly stops: readonly TourStop[];
  /** Number of the phase of each, of those that have stops. */
  readonly phaseOf: readonly number[];
}

function joined(phases: readonly (readonly TourStop[])[]): Joined {
  const stops: TourStop[] = [];
  const phaseOf: number[] = [];
  for (const [phase, own] of phases.filter(({ length }) => length > 0).entries()) {
    const first = stops.length;
    for (const stop of own) {
      stops.push({ ...stop, before: stop.before.map((index) => first + index) });
      phaseOf.push(phase);
    }
  }
  return { stops, phaseOf };
}

/** Each waiting for all of the phases before its own as well. */
function inTurn(stops: readonly TourStop[], phaseOf: readonly number[]): TourStop[] {
  return stops.map((stop, index) => {
    const earlier = [...phaseOf.keys()].filter((other) => phaseOf[other]! < phaseOf[index]!);
    return { ...stop, before: [...stop.before, ...earlier] };
  });
}

/** The stops that a tour may begin with, and those that it may end with. */
type HomeEnds = readonly [first: readonly number[], last: readonly number[]];

function homeEnds({ before, after }: Waiting, phaseOf: readonly number[]): HomeEnds {
  const stops = [...phaseOf.keys()];
  const last = phaseOf.at(-1);
  return [
    stops.filter((stop) => phaseOf[stop] === 0 && before[stop]?.length === 0),
    stops.filter((stop) => phaseOf[stop] === last && after[stop]?.length === 0),
  ];
}

/** Steps of a subgradient: stops with many ways in the tree become dear, ends of it cheap. */
function ascend(ways: Ways, table: DistanceTable, ends: HomeEnds, reachedMm: number): number {
  const weights = new Float64Array(ways.count);
  const passing = table.isKept ? new Passing(ways, table) : null;
  const steps = Math.max(1, Math.min(MOST_STEPS, Math.floor(MOST_WORK / ways.count ** 2)));
  let [best, boldness, vain] = [0, 2, 0];
  for (let step = 0; step < steps; step += 1) {
    const { treeMm, degrees, by } = oneTree(ways, table, ends, weights);
    const lengthMm = treeMm + (passing?.cost() ?? 0);
    vain = lengthMm > best ? 0 : vain + 1;
    best = Math.max(best, lengthMm);
    if (vain > PATIENCE) [boldness, vain] = [boldness / 2, 0];
    const square = degrees.reduce(
      (sum, degree) => sum + (degree - 2) ** 2,
      passing?.difference(by) ?? 0,
    );
    if (square === 0) break;
    const length = (boldness * Math.max(0, reachedMm - lengthMm)) / square;
    for (let stop = 0; stop < weights.length; stop += 1)
      weights[stop]! += length * (degrees[stop]! - 2);
    passing?.adjust(by, length);
  }
  return best * (1 - ROUNDING);
}

/** A tenth of a second for a thousand stops. */
const MOST_WORK = 40_000_000;
const MOST_STEPS = 150;
const PATIENCE = 4;
/** What binary arithmetic may add to a sum. */
const ROUNDING = 1e-9;

interface OneTree {
  /** By the weighted ways, less twice the weights, mm. */
  readonly treeMm: number;
  /** Ways at each stop. */
  readonly degrees: Int32Array;
  /** For each stop another that it hangs on; -1 for the first. */
  readonly by: Int32Array;
}

/** The shortest tree over all stops (Prim), with the two shortest ways from home that may be. */
function oneTree(ways: Ways, table: DistanceTable, ends: HomeEnds, weights: Float64Array): OneTree {
  const { count } = ways;
  const degrees = new Int32Array(count);
  const least = new Float64Array(count).fill(Infinity);
  const by = new Int32Array(count).fill(-1);
  const open = Int32Array.from({ length: count - 1 }, (_, stop) => stop + 1);
  let treeMm = homeWays(ways, ends, weights, degrees);
  let added = 0;
  for (let left = count - 1; left > 0; left -= 1) {
    let nearest = 0;
    for (let place = 0; place < left; place += 1) {
      const stop = open[place]!;
      const mm = table.between(added, stop) + weights[added]! + weights[stop]!;
      if (mm < least[stop]!) {
        least[stop] = mm;
        by[stop] = added;
      }
      if (least[stop]! < least[open[nearest]!]!) nearest = place;
    }
    added = open[nearest]!;
    open[nearest] = open[left - 1]!;
    treeMm += least[added]!;
    degrees[added]! += 1;
    degrees[by[added]!]! += 1;
  }
  for (const weight of weights) treeMm -= 2 * weight;
  return { treeMm, degrees, by };
}

function homeWay(ways: Ways, stop: number, isBack: boolean): number {
  return isBack ? ways.apart(stop, ways.end) : ways.apart(ways.home, stop);
}

/** Out to one stop and back from another, unless there is only one. */
function homeWays(ways: Ways, ends: HomeEnds, weights: Float64Array, degrees: Int32Array): number {
  const nearest = ends.map((stops, end) =>
    stops
      .map((stop) => ({ stop, mm: weights[stop]! + homeWay(ways, stop, end === 1) }))
      .sort((a, b) => a.mm - b.mm)
      .slice(0, 2),
  );
  const pairs = nearest[0]!.flatMap((out) =>
    nearest[1]!
      .filter((back) => ways.count === 1 || back.stop !== out.stop)
      .map((back) => ({ out, back, mm: out.mm + back.mm })),
  );
  const best = pairs.reduce((found, pair) => (pair.mm < found.mm ? pair : found));
  degrees[best.out.stop]! += 1;
  degrees[best.back.stop]! += 1;
  return best.mm;
}
