import type { Point } from "../geometry/types.ts";
import { cutStops, engravingStops, pathsFrom, scoreStops } from "./stops.ts";
import type { Stop } from "./stops.ts";
import { shortTour } from "./tour.ts";
import type { Entrance } from "./tour.ts";
import type { OrderedPath, PlacedLines } from "./types.ts";

/** The order of work on a sheet: what is engraved, then scored, then cut, inside before outside. */

/** A stop as it is done. */
export interface OrderedStop extends Entrance {
  readonly stop: Stop;
  readonly paths: readonly OrderedPath["path"][];
}

/** From 0,0, a short way through everything, and back to 0,0. */
export function orderStops(lines: readonly PlacedLines[], lineIntervalMm: number): OrderedStop[] {
  const phases = [engravingStops(lines, lineIntervalMm), scoreStops(lines), cutStops(lines)];
  const last = phases.findLastIndex((stops) => stops.length > 0);
  let at = HOME;
  return phases.flatMap((stops, phase) => {
    const done = orderedPhase(stops, at, phase === last ? HOME : null);
    at = done.at(-1)?.leave ?? at;
    return done;
  });
}

/** The contours of stops in order; all those engraved on one copy follow each other. */
export function orderedPaths(stops: readonly OrderedStop[]): OrderedPath[] {
  return stops.flatMap(({ stop: { operation, part, copy }, paths }) =>
    paths.map((path) => ({ operation, part, copy, path })),
  );
}

/** Where a sheet is begun and ended: its lower left corner. */
export const HOME: Point = { x: 0, y: 0 };

function orderedPhase(stops: readonly Stop[], from: Point, to: Point | null): OrderedStop[] {
  return shortTour(stops, from, to).map(({ stop: index, entrance }) => {
    const stop = stops[index]!;
    return { stop, paths: pathsFrom(stop, entrance), ...stop.entrances[entrance]! };
  });
}
