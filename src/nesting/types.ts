import type { Region } from "../geometry/types.ts";
import type { Turn } from "../job/types.ts";
import type { Amount } from "../money.ts";

/** One part to nest. */
export interface NestPiece {
  readonly part: string;
  /** Over the whole commission, 1 or more. */
  readonly copies: number;
  /** The outline as drawn, flattened. */
  readonly region: Region;
  /** How far the true curve may lie outside the polygon, mm: kept free on top of gap and margin. */
  readonly flatteningMm: number;
  readonly turn: Turn;
  readonly flip: boolean;
}

/** What there is of a sheet that is no rectangle: an offcut out of which something was cut before. */
export interface SheetOutline {
  /** Within the box of the sheet, and touching each of its sides. */
  readonly region: Region;
  /** How far the true curve may lie inside the polygon, mm: kept free on top of the margin. */
  readonly flatteningMm: number;
}

/** One size of sheet (or roll) that can be bought in the material and thickness nested. */
export interface SheetChoice {
  readonly id: string;
  readonly form: "sheet" | "roll";
  /** Along x. */
  readonly widthMm: number;
  /** Along y; null for a roll, whose length is used as needed. */
  readonly heightMm: number | null;
  /**
   * Of a roll: it is cut into lengths of no more than this, each a layout of its own, because the
   * machine takes no longer ones; null for a single length of any size, and for sheets.
   */
  readonly longestMm: number | null;
  /** A sheet, or a metre of roll. */
  readonly price: Amount;
  readonly marginMm: number;
  readonly gapMm: number;
  /** Sheets there are at most; null for as many as needed. */
  readonly onHand: number | null;
  /** Left over from other work: taken from the shelf, not bought. */
  readonly offcut?: boolean;
  /** Not given for a rectangle. The margin is kept from it as from the edges of one. */
  readonly outline?: SheetOutline;
  /**
   * Where the bought sheet is sawn into panels of this width and height: into how many. Price and
   * `onHand` are those of bought sheets.
   */
  readonly panels?: number;
}

/** A copy on a sheet; the pose is that of design.md: mirrored, then turned, then moved. */
export interface Placement {
  readonly part: string;
  /** 1 to copies. */
  readonly copy: number;
  readonly turnDeg: number;
  readonly mirrored: boolean;
  readonly xMm: number;
  readonly yMm: number;
}

export interface NestedSheet {
  /** Id of the {@link SheetChoice}. */
  readonly sheet: string;
  readonly widthMm: number;
  /** For a roll the length used, margins included. */
  readonly heightMm: number;
  /** Of one that is no rectangle, see {@link SheetOutline}. */
  readonly outline?: Region;
  readonly placements: readonly Placement[];
}

/** Copies that no sheet could take, and why. */
export interface Unplaced {
  readonly part: string;
  readonly copies: number;
  readonly reason: string;
}

/** A complete, judged answer for one material and thickness. */
export interface Nest {
  /** The sizes that its sheets are of, or where there are none, could have been; several for a mix. */
  readonly choices: readonly SheetChoice[];
  readonly sheets: readonly NestedSheet[];
  readonly unplaced: readonly Unplaced[];
  /** Price of the sheets used, or of the roll's length. */
  readonly sheetCost: Amount;
  /** Area of the pieces over area of the sheets used, 0 to 1. */
  readonly utilisation: number;
  /** The same for the sheets of each of the choices. */
  readonly utilisations: readonly number[];
}

/** All that was tried for one material and thickness. */
export interface NestOutcome {
  /** The cheapest complete nest; null when no set of sheets takes every piece. */
  readonly best: Nest | null;
  /** The best nest of each size bought, cheapest first; those with unplaced pieces last. */
  readonly bySize: readonly Nest[];
  /** The best nest of several sizes or with offcuts; null when none is of use. */
  readonly mix: Nest | null;
  /** Where that takes offcuts, the best nest of several sizes without; null when none is of use. */
  readonly boughtMix: Nest | null;
  /** No set of the sheets on offer, mixed or not, can cost less than this. */
  readonly costBound: Amount;
  /** Rounds made. */
  readonly steps: number;
  readonly seed: number;
}

/** What the judge found wrong; an empty list is a pass. */
export interface Fault {
  readonly kind: "count" | "outside" | "too close" | "turn" | "sheet";
  /** Index into the sheets; null when it is about the whole nest. */
  readonly sheet: number | null;
  readonly parts: readonly string[];
  readonly what: string;
}
