import { distance } from "../geometry/point.ts";
import type { FeedRow, MachineRow, Operation } from "../job/types.ts";
import { moveTime } from "./motion.ts";
import { HOME, leastTravelOf, orderedPaths, orderStops, stopsAsDrawn } from "./order.ts";
import type { OrderedStop } from "./order.ts";
import { rasterBlock, rasterTime } from "./raster.ts";
import { plannedTime } from "./speed-plan.ts";
import { KnownBends, stretchesOf } from "./stretches.ts";
import type { OperationTime, SheetTime, SheetWork } from "./types.ts";
import { OPERATIONS_IN_ORDER } from "./work.ts";

/**
 * How long the machine runs for one sheet, from 0,0 and back to it.
 *
 * A contour starts and ends at rest and is slowed for its corners and curves, see
 * {@link plannedTime}. Every pass begins where the first began, without a way between passes
 * on a closed contour. What is engraved on one copy is a block of lines over the box around it.
 * @throws RangeError when there is something to do for which no feed is given.
 */
export function timeSheet(work: SheetWork): SheetTime {
  const stops = orderStops(work);
  const { travelMm, ...times } = timesOf(work, stops);
  return {
    sheet: work.sheet,
    ...times,
    travelMm,
    leastTravelMm: leastTravelMm(work, stops, travelMm),
    order: orderedPaths(stops),
  };
}

/** How long the machine runs for one sheet, s, and no more. @throws RangeError as {@link timeSheet}. */
export function runningTime(work: SheetWork): number {
  return timesOf(work, orderStops(work)).runningS;
}

/**
 * What it can not be below in any order, s: lengths over feeds, and starts. Told without an order,
 * which is what takes long to find. @throws RangeError as {@link timeSheet}.
 */
export function leastRunningTime(work: SheetWork): number {
  const operations = operationTimes(work, stopsAsDrawn(work));
  return sum(operations.map(({ atFullFeedS, pierceS }) => atFullFeedS + pierceS));
}

type Times = Pick<SheetTime, "operations" | "travelMm" | "travelS" | "runningS">;

function timesOf(work: SheetWork, stops: readonly OrderedStop[]): Times {
  const operations = operationTimes(work, stops);
  const travelS = travelTime(stops, work);
  const workingS = sum(operations.map(({ workingS, pierceS }) => workingS + pierceS));
  return {
    operations,
    travelMm: travelLength(stops, work),
    travelS,
    runningS: workingS + travelS,
  };
}

function operationTimes(
  { feeds, machine }: SheetWork,
  stops: readonly OrderedStop[],
): readonly OperationTime[] {
  const bends = new KnownBends();
  return OPERATIONS_IN_ORDER.flatMap((operation) => {
    const done = stops.filter(({ stop }) => stop.operation === operation);
    if (done.length === 0) return [];
    const measured = done.map((stop) => measure(stop, machine, bends));
    return [operationTime(measured, feedOf(feeds, operation), machine)];
  });
}

/** With the ways back between passes, which no order shortens. */
function leastTravelMm(work: SheetWork, stops: readonly OrderedStop[], travelMm: number): number {
  const betweenPasses = sum(stops.flatMap((stop) => backMoves(stop, work.feeds)));
  return leastTravelOf(work, travelMm - betweenPasses) + betweenPasses;
}

/** How long the travel alone takes in any order of the stops, s. */
export function travelTime(
  stops: readonly OrderedStop[],
  { feeds, machine }: Pick<SheetWork, "feeds" | "machine">,
): number {
  const { travelMmS, accelerationMmS2 } = machine;
  return sum(travelMoves(stops, feeds).map((mm) => moveTime(mm, travelMmS, accelerationMmS2)));
}

/** Length of the travel in any order of the stops, mm. */
export function travelLength(
  stops: readonly OrderedStop[],
  { feeds }: Pick<SheetWork, "feeds">,
): number {
  return sum(travelMoves(stops, feeds));
}

function operationTime(
  measured: readonly Measured[],
  { operation, feedMmS, passes, pierceS, place }: FeedRow,
  machine: MachineRow,
): OperationTime {
  const timeAt = (feed: number): number => passes * sum(measured.map(({ time }) => time(feed)));
  const lengthMm = sum(measured.map((each) => each.lengthMm));
  // Engraving may be slower at a higher feed, whose turns take longer.
  const times = [feedMmS.low, feedMmS.likely, feedMmS.high].map(timeAt);
  return {
    operation,
    lengthMm,
    contours: measured.length,
    passes,
    workingS: timeAt(feedMmS.likely),
    slowestS: Math.max(...times),
    fastestS: Math.min(...times),
    atFullFeedS: (passes * lengthMm) / feedMmS.likely,
    atHalfFeedS: timeAt(feedMmS.likely / 2),
    atTwiceFeedS: timeAt(feedMmS.likely * 2),
    pierceS: measured.length * passes * (pierceS + machine.settleS),
    backMm: sum(measured.map((each) => each.backMm)),
    feed: place,
  };
}

interface Measured {
  readonly lengthMm: number;
  /** From its end to where it began. */
  readonly backMm: number;
  /** Once over at a feed, s. */
  readonly time: (feedMmS: number) => number;
}

function measure(
  { stop, paths, enter, leave }: OrderedStop,
  machine: MachineRow,
  bends: KnownBends,
): Measured {
  const { accelerationMmS2, cornerToleranceMm } = machine;
  const backMm = distance(leave, enter);
  if (stop.operation === "engrave") return { ...measureRaster(paths, machine), backMm };
  const lengthMm = sum(paths.map((path) => bends.lengthOf(path)));
  const stretches = paths.map((path) => stretchesOf(path, cornerToleranceMm, bends));
  const time = (feed: number): number =>
    sum(stretches.map((each) => plannedTime(each, feed, accelerationMmS2)));
  return { lengthMm, backMm, time };
}

function measureRaster(paths: OrderedStop["paths"], machine: MachineRow): Omit<Measured, "backMm"> {
  const { accelerationMmS2, rasterAccelerationMmS2, lineIntervalMm, travelMmS } = machine;
  const block = rasterBlock(paths, lineIntervalMm);
  const way = {
    accelerationMmS2: rasterAccelerationMmS2 ?? accelerationMmS2,
    backMmS: machine.engraveBothWays ? null : travelMmS,
  };
  return { lengthMm: block.lengthMm, time: (feed) => rasterTime(block, feed, way) };
}

/** Lengths of the moves with the beam off. */
function travelMoves(stops: readonly OrderedStop[], feeds: readonly FeedRow[]): number[] {
  let at = HOME;
  const moves = stops.flatMap((stop) => {
    const there = distance(at, stop.enter);
    at = stop.leave;
    return [there, ...backMoves(stop, feeds)];
  });
  return [...moves, distance(at, HOME)];
}

/** Between passes, to the start of what is open. */
function backMoves({ stop, enter, leave }: OrderedStop, feeds: readonly FeedRow[]): number[] {
  const repeats = feedOf(feeds, stop.operation).passes - 1;
  return Array.from({ length: repeats }, () => distance(leave, enter));
}

function feedOf(feeds: readonly FeedRow[], operation: Operation): FeedRow {
  const feed = feeds.find((row) => row.operation === operation);
  if (feed === undefined) throw new RangeError(`no feed given to ${operation}`);
  return feed;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
