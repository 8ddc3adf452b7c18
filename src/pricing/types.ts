import type { PartGeometry } from "../drawing/types.ts";
import type { FigureRecord, QuoteLine, ShoppingItem } from "../estimate-data.ts";
import type {
  Job,
  MachineRow,
  Part,
  QuoteSection,
  SheetRow,
  StockLengthRow,
  Tables,
} from "../job/types.ts";
import type { SheetTime } from "../machine/types.ts";
import type { Currency } from "../money.ts";
import type { Nest } from "../nesting/types.ts";

/** Everything measured, nested and timed before a price is worked out. */
export interface PricingInput {
  readonly job: Job;
  readonly tables: Tables;
  readonly currency: Currency;
  readonly machine: MachineRow;
  /** In the order of the parts list. */
  readonly parts: readonly MeasuredPart[];
  /** One for each material and thickness. */
  readonly stocks: readonly PricedStock[];
  /** One for each section of stock lengths. */
  readonly bars: readonly PlannedBars[];
}

export interface MeasuredPart {
  readonly part: Part;
  readonly geometry: PartGeometry;
}

export interface PricedStock {
  readonly material: string;
  readonly thicknessMm: number;
  /** The row of the size chosen. */
  readonly row: SheetRow;
  readonly nest: Nest;
  /** In the order of the nest's sheets. */
  readonly times: readonly SheetTime[];
}

/** A direct cost, as the build-up and the quote take it. */
export interface CostLine {
  readonly section: QuoteSection;
  /** For the customer. */
  readonly description: string;
  /** What it covers, for the customer: no rates of the house. */
  readonly basis: string;
  /** Id of the figure, in the currency. */
  readonly cost: string;
  /** For things sold by the piece: how many, and the figure of one's cost. */
  readonly each: { readonly count: string; readonly cost: string } | null;
}

/** The outcome of pricing. */
export interface Priced {
  readonly figures: readonly FigureRecord[];
  readonly quote: readonly QuoteLine[];
  readonly shopping: readonly ShoppingItem[];
}

/** Which lengths come from which bar of one section, on the stocked length that costs least. */
export interface PlannedBars {
  /** The row of the length chosen; its `id` is the section. */
  readonly row: StockLengthRow;
  /** One list of pieces for each bar, in sawing order. */
  readonly bars: readonly (readonly SawnPiece[])[];
}

export interface SawnPiece {
  readonly name: string;
  readonly lengthMm: number;
}
