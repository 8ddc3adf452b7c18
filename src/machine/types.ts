import type { Path } from "../geometry/types.ts";
import type { Place } from "../problem.ts";
import type { CommonCuts, FeedRow, MachineRow, Operation } from "../job/types.ts";

/** The lines of one placed copy, in sheet coordinates. */
export interface PlacedLines {
  readonly part: string;
  readonly copy: number;
  readonly outline: Path;
  readonly holes: readonly Path[];
  readonly scores: readonly Path[];
  readonly engravings: readonly Path[];
  /** Lines that are cut once more before the outline, where they are drawn twice and worked so. */
  readonly cutAgain?: readonly Path[];
}

/** A row of the feeds table, or what follows from such rows for a thickness that has none. */
export interface Feed extends FeedRow {
  /** The rows it rests on: its own, or those that the rule goes through. */
  readonly rows: readonly Place[];
  /** Named rule and rows by which it was worked out; null for a row as it stands. */
  readonly rule: string | null;
}

/** One sheet to work. */
export interface SheetWork {
  /** Id in the sheets table. */
  readonly sheet: string;
  readonly lines: readonly PlacedLines[];
  /** One for each operation that occurs on it. */
  readonly feeds: readonly FeedRow[];
  readonly machine: MachineRow;
  /** Whether edges that pieces have in common are cut once. */
  readonly commonCuts: CommonCuts;
}

/** What one operation on one sheet takes. Times in s, lengths in mm. */
export interface OperationTime {
  readonly operation: Operation;
  /** Once over; passes are in the time. For engraving the length of all raster lines. */
  readonly lengthMm: number;
  readonly contours: number;
  readonly passes: number;
  /** At the likely feed. */
  readonly workingS: number;
  readonly slowestS: number;
  readonly fastestS: number;
  /** Length over feed, all passes: what is missing of `workingS` goes to starts, corners and curves. */
  readonly atFullFeedS: number;
  /** What `workingS` would be at half and at twice the likely feed: the log finds other feeds by it. */
  readonly atHalfFeedS: number;
  readonly atTwiceFeedS: number;
  /** Starts of contours with settling, all passes. */
  readonly pierceS: number;
  /** From the ends of its contours to where they began, once over: 0 where all are closed. */
  readonly backMm: number;
  /** The row of the feeds table it was worked out from. */
  readonly feed: Place;
}

export interface SheetTime {
  readonly sheet: string;
  readonly operations: readonly OperationTime[];
  /** With the beam off, from and to 0,0. */
  readonly travelMm: number;
  readonly travelS: number;
  /** What the travel can not be below in any order of the contours, each begun where it may be, mm. */
  readonly leastTravelMm: number;
  /** Working, piercing and travelling. */
  readonly runningS: number;
  /** The order in which contours are worked. */
  readonly order: readonly OrderedPath[];
}

export interface OrderedPath {
  readonly operation: Operation;
  readonly part: string;
  readonly copy: number;
  /** Starts where the machine enters it. */
  readonly path: Path;
}

export type CautionTopic =
  | "laser"
  | "fume"
  | "spray"
  | "sawing"
  | "drilling"
  | "sanding"
  | "mains"
  | "solvent";

export interface Caution {
  readonly topic: CautionTopic;
  /** Helpful sentences; they defer to manuals, local codes and licensed practice. */
  readonly text: string;
  /** What in the job calls for it. */
  readonly because: string;
}
