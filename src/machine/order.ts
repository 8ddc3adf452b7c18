import type { Point } from "../geometry/types.ts";
import type { CommonCuts, MachineRow } from "../job/types.ts";
import { cutStops, engravingStops, pathsFrom, scoreStops } from "./stops.ts";
import type { Stop } from "./stops.ts";
import { leastTravel, shortTour } from "./tour.ts";
import type { Entrance } from "./tour.ts";
import type { OrderedPath, PlacedLines } from "./types.ts";

/** The order of work on a sheet: what is engraved, then scored, then cut, inside before outside. */

/** A stop as it is done. */
export interface OrderedStop extends Entrance {
  readonly stop: Stop;
  readonly paths: readonly OrderedPath["path"][];
}

/** What decides the order. */
export interface WorkToOrder {
  readonly lines: readonly PlacedLines[];
  readonly machine: Pick<MachineRow, "lineIntervalMm">;
  readonly commonCuts: CommonCuts;
}

/** From 0,0, a short way through everything, and back to 0,0. */
export function orderStops(work: WorkToOrder): OrderedStop[] {
  const phases = phasesOf(work);
  const last = phases.findLastIndex((stops) => stops.length > 0);
  let at = HOME;
  return phases.flatMap((stops, phase) => {
    const done = orderedPhase(stops, at, phase === last ? HOME : null);
    at = done.at(-1)?.leave ?? at;
    return done;
  });
}

/**
 * What the travel between all stops can not go below in any order, by any of the entrances they have, mm.
 * @param reachedMm the travel of an order that is known.
 */
export function leastTravelOf(work: WorkToOrder, reachedMm: number): number {
  return leastTravel(phasesOf(work), HOME, reachedMm);
}

/** The stops copy by copy, each begun where it is drawn. */
export function stopsAsDrawn(work: WorkToOrder): OrderedStop[] {
  return phasesOf(work).flatMap((stops) => stops.map(asDrawn));
}

/** The contours of stops in order; all those engraved on one copy follow each other. */
export function orderedPaths(stops: readonly OrderedStop[]): OrderedPath[] {
  return stops.flatMap(({ stop: { operation, part, copy }, paths }) =>
    paths.map((path) => ({ operation, part, copy, path })),
  );
}

/** Where a sheet is begun and ended: its lower left corner. */
export const HOME: Point = { x: 0, y: 0 };

function phasesOf({ lines, machine, commonCuts }: WorkToOrder): readonly (readonly Stop[])[] {
  return [
    engravingStops(lines, machine.lineIntervalMm),
    scoreStops(lines),
    cutStops(lines, commonCuts),
  ];
}

function asDrawn(stop: Stop): OrderedStop {
  const [path] = stop.paths;
  const [first] = stop.entrances;
  if (path === undefined || first === undefined) throw new RangeError("a stop of nothing");
  const ends = path.closed ? { enter: path.start, leave: path.start } : first;
  return { stop, paths: stop.paths, ...(stop.operation === "engrave" ? first : ends) };
}

function orderedPhase(stops: readonly Stop[], from: Point, to: Point | null): OrderedStop[] {
  return shortTour(stops, from, to).map(({ stop: index, entrance }) => {
    const stop = stops[index]!;
    return { stop, paths: pathsFrom(stop, entrance), ...stop.entrances[entrance]! };
  });
}
