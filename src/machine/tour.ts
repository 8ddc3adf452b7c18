import type { Point } from "../geometry/types.ts";
import { randomFrom } from "../random.ts";
import { Chain } from "./tour/chain.ts";
import { nearestFirst } from "./tour/nearest-first.ts";
import { neighboursOf } from "./tour/neighbours.ts";
import { renew } from "./tour/renewing.ts";
import { areFew, shortestTour } from "./tour/shortest.ts";
import type { TourStop, Visit } from "./tour/types.ts";
import { waitingOf } from "./tour/waiting.ts";
import type { Waiting } from "./tour/waiting.ts";
import { Ways } from "./tour/ways.ts";

/**
 * A short way through a number of stops, some of which must wait for others: the shortest where the
 * stops are few, else nearest first, then renewed here and there over and over. The same stops
 * always give the same way.
 */

export { leastTravel } from "./tour/bound.ts";
export type { Entrance, TourStop, Visit } from "./tour/types.ts";

/** How long is looked for a shorter way, and from where chance begins. */
export interface TourEffort {
  readonly rounds: number;
  readonly seed: number;
}

/**
 * Visits every stop once.
 * @param to where the way leads afterwards, or null when that does not matter.
 * @param effort as usual unless given: the same for every sheet of that many contours.
 * @throws RangeError when stops wait for each other in a circle.
 */
export function shortTour(
  stops: readonly TourStop[],
  from: Point,
  to: Point | null,
  effort: TourEffort = usualEffort(stops),
): Visit[] {
  const waiting = waitingOf(stops);
  const ways = new Ways(stops, from, to);
  const tour = areFew(ways) ? shortestTour(ways, waiting) : renewedTour(ways, waiting, effort);
  return tour.map((way) => {
    const stop = ways.stopOf[way]!;
    return { stop, entrance: way - ways.first[stop]! };
  });
}

/** Length of the way between the stops, mm; what is done at the stops does not count. */
export function tourLength(
  stops: readonly TourStop[],
  tour: readonly Visit[],
  from: Point,
  to: Point | null,
): number {
  const ways = new Ways(stops, from, to);
  const order = tour.map(({ stop, entrance }) => ways.first[stop]! + entrance);
  return ways.lengthOf(order);
}

function renewedTour(
  ways: Ways,
  waiting: Waiting,
  { rounds, seed }: TourEffort,
): readonly number[] {
  const start = nearestFirst(ways, waiting);
  const chain = new Chain(ways, waiting, start);
  renew(chain, neighboursOf(ways, NEIGHBOURS), rounds, randomFrom(seed));
  return chain.order();
}

/** Half a second for a thousand stops. Thirty times as many rounds find about 3 % less. */
function usualEffort(stops: readonly TourStop[]): TourEffort {
  const ways = stops.reduce((sum, { entrances }) => sum + entrances.length, 0);
  const wanted = Math.min(MOST_ROUNDS, Math.max(FEWEST_ROUNDS, ROUNDS_EACH * stops.length));
  const rounds = Math.ceil(wanted * Math.min(1, (USUAL_WAYS * stops.length) / ways));
  return { rounds, seed: SEED };
}

const ROUNDS_EACH = 20;
const [FEWEST_ROUNDS, MOST_ROUNDS] = [1_000, 15_000];
/** To do a stop. A round takes longer where there are more, in proportion. */
const USUAL_WAYS = 12;
const SEED = 1;
const NEIGHBOURS = 12;
