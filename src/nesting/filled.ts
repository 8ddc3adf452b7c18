import type { Turned } from "./turns.ts";
import type { SheetChoice, Unplaced } from "./types.ts";

/** Where copies lie on the sheets taken, before anybody has judged it. */
export interface Filled {
  readonly sheets: readonly FilledSheet[];
  readonly unplaced: readonly Unplaced[];
}

export interface FilledSheet {
  readonly choice: SheetChoice;
  readonly placed: readonly Laid[];
  /** From the lower edge to the far end of the highest piece. */
  readonly usedMm: number;
}

/** A copy of a shape; x and y are the position of its 0,0. */
export interface Laid {
  readonly shape: number;
  readonly variant: Pick<Turned, "turnDeg" | "mirrored" | "box">;
  readonly x: number;
  readonly y: number;
}
