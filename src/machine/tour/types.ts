import type { Point } from "../../geometry/types.ts";

/** A way to do a stop: where it begins, and where the beam is afterwards. */
export interface Entrance {
  readonly enter: Point;
  readonly leave: Point;
}

export interface TourStop {
  /** At least one. */
  readonly entrances: readonly Entrance[];
  /** Numbers of the stops that must come earlier; without circles. */
  readonly before: readonly number[];
}

export interface Visit {
  /** Number of the stop in the list given. */
  readonly stop: number;
  /** Number of the entrance taken. */
  readonly entrance: number;
}
