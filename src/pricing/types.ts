import type { PartGeometry } from "../drawing/types.ts";
import type { Figure } from "../figure.ts";
import type {
  Drying,
  FinishRow,
  HardwareUse,
  Job,
  LengthUse,
  MachineRow,
  PaintKind,
  Part,
  QuoteSection,
  SheetRow,
  StockLengthRow,
  Tables,
  TaskRow,
} from "../job/types.ts";
import type { Feed, SheetTime } from "../machine/types.ts";
import type { Currency } from "../money.ts";
import type { SawnLength, SawPlan } from "../nesting/bars/saw-plan.ts";
import type { Leftover } from "../nesting/leftover.ts";
import type { Nest, NestedSheet } from "../nesting/types.ts";
import type { Place } from "../problem.ts";
import type { Planned } from "./drying-plan.ts";
import type { SpareRule } from "./spares.ts";

/** What a job calls for, known before it is nested. */
export interface MeasuredJob {
  readonly job: Job;
  readonly tables: Tables;
  /** In the order of the parts list. */
  readonly parts: readonly MeasuredPart[];
}

/** Everything measured, nested and timed before a price is worked out. */
export interface PricingInput extends MeasuredJob {
  readonly currency: Currency;
  readonly machine: MachineRow;
  /** One for each material and thickness. */
  readonly stocks: readonly PricedStock[];
  /** One for each section of stock lengths. */
  readonly bars: readonly PlannedBars[];
}

export interface MeasuredPart {
  readonly part: Part;
  readonly geometry: PartGeometry;
  /** What says how far its cut lines were moved; nothing where they run as drawn. */
  readonly cutFrom: readonly Place[];
  /** Of one copy, that a sheet of the job stands in. */
  readonly slots: number;
  /** Copies made on top; null for none. */
  readonly spare: SpareRule | null;
}

export interface PricedStock {
  readonly material: string;
  readonly thicknessMm: number;
  /** The sizes chosen, each with the sheets of it; several for a mix. */
  readonly used: readonly PricedSheets[];
  readonly nest: Nest;
  /** In the order of the nest's sheets. */
  readonly times: readonly SheetTime[];
  /** One for each operation. */
  readonly feeds: readonly Feed[];
  /** Worth keeping; null when nothing is. */
  readonly leftover: Leftover | null;
}

export interface PricedSheets {
  readonly row: SheetRow;
  /** From the shelf, not bought. */
  readonly offcut: boolean;
  /** Of the machine's size, that each sheet is sawn into; null where it is not. */
  readonly panels: {
    readonly across: number;
    readonly along: number;
    readonly widthMm: number;
    readonly heightMm: number;
  } | null;
  /** Sheets, panels or lengths of roll. */
  readonly sheets: readonly NestedSheet[];
  /** Area of the parts over area of the sheets, 0 to 1. */
  readonly utilisation: number;
}

/** What a direct cost is spent on. */
export type CostKind = "materials" | "bought-in" | "machine" | "labour" | "delivery";

/** A direct cost, as the build-up and the quote take it. */
export interface CostLine {
  readonly section: QuoteSection;
  /** Which markup it bears, where kinds of cost have their own. */
  readonly of: CostKind;
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
  readonly making: Making;
  /** Null where the tables do not say how long a working day is. */
  readonly leadTime: LeadTime | null;
  readonly terms: QuoteTerms;
}

/** What a quote says beside its lines, for the customer. Words are as the maker wrote them. */
export interface QuoteTerms {
  /** Name and contact lines of who makes it; may be empty. */
  readonly maker: readonly string[];
  /** ISO 8601, the last day on which the quote may be accepted; null where nothing says it. */
  readonly validUntil: string | null;
  /** In the order in which they fall due; they add up to the total with tax. May be empty. */
  readonly stages: readonly PaymentStage[];
  /** Changes to the design that the price holds; null where nothing says it. */
  readonly revisions: {
    readonly included: number;
    /** What each further one costs, net; null where it is to be agreed. */
    readonly further: DecimalText | null;
  } | null;
  readonly notIncluded: readonly string[];
}

/** A part of the total with tax. */
export interface PaymentStage {
  readonly name: string;
  /** When it falls due: `on order`. */
  readonly due: string;
  readonly percent: DecimalText;
  readonly amount: DecimalText;
  /** Id of the figure behind the amount. */
  readonly figure: string;
}

/** From the order to the hand-over. */
export interface LeadTime {
  /** Whole working days, rounded up. */
  readonly workingDays: number;
  /** Id of the figure. */
  readonly figure: string;
}

/**
 * How the job is made, for the bench: what was counted and where its figure is, in the order of the
 * job's own lists.
 */
export interface Making {
  readonly finishes: readonly FinishMade[];
  readonly fixings: readonly FixingUsed[];
  readonly lengths: readonly LengthSawn[];
  readonly tasks: readonly TaskDone[];
}

/** A finish of the job, step by step. */
export interface FinishMade {
  /** Id in the finishes table. */
  readonly finish: string;
  /** When each coat can come; null where a paint does not say, or how long a day is. */
  readonly calendar: FinishCalendar | null;
  readonly steps: readonly (Pick<FinishRow, "step" | "paint" | "faces" | "edges" | "coats"> & {
    /** Of the paint; empty where nothing is used up. */
    readonly description: string;
    readonly kind: PaintKind | null;
    /** Null where the paint's row says nothing of it. */
    readonly drying: Drying | null;
  })[];
}

/** The coats of a finish in the order in which they are dry soonest. */
export interface FinishCalendar {
  readonly planned: readonly (Pick<Planned, "step" | "coat" | "waitedFor"> & MomentOfWork)[];
  /** From when on all may be touched, and all is hard. */
  readonly touch: MomentOfWork;
  readonly hard: MomentOfWork;
}

export interface MomentOfWork {
  /** Of painting, from 1. */
  readonly day: number;
  /** From the beginning of that day's work. */
  readonly minute: number;
}

/** A row of the job's hardware.csv. */
export interface FixingUsed extends Omit<HardwareUse, "place"> {
  readonly description: string;
  /** Into one piece; null for what the order needs as a whole. */
  readonly eachPiece: DecimalText | null;
  /** Id of the figure of how many in all, spares left out. */
  readonly figure: string;
}

/** A row of the job's lengths.csv. */
export interface LengthSawn extends Pick<LengthUse, "name" | "stock" | "lengthMm" | "note"> {
  /** Id of the figure of how many in all. */
  readonly figure: string;
}

export interface TaskDone extends Pick<TaskRow, "basis" | "hazard" | "section"> {
  /** Id in the tasks table. */
  readonly task: string;
  readonly note: string;
  /** Id of the figure of how many of its basis there are; null for once an order. */
  readonly count: string | null;
  /** How often over. */
  readonly times: number;
  /** Id of the figure of its minutes in all. */
  readonly figure: string;
}

/** A decimal such as `12.50`, as many digits as it has. */
export type DecimalText = string;

export interface FigureRecord extends Omit<Figure, "value" | "spread"> {
  readonly value: DecimalText;
  readonly spread?: { readonly low: DecimalText; readonly high: DecimalText; readonly of?: Place };
}

/** A row of the customer's quote; amounts have all minor digits. */
export interface QuoteLine {
  readonly section: QuoteSection | "Total";
  /** `1`, `2`, ... for lines; empty for sums. */
  readonly line: string;
  readonly description: string;
  readonly quantity: DecimalText;
  readonly unit: string;
  readonly unitPrice: DecimalText;
  readonly amount: DecimalText;
  readonly kind: "line" | "subtotal" | "tax" | "total";
  /** What the amount covers, in words for the customer: no inside rates. */
  readonly basis: string;
  /** Id of the figure behind the amount. */
  readonly figure: string;
  /** Ids of the figures behind quantity and unit price, where it is sold by the piece; else null. */
  readonly each: { readonly count: string; readonly price: string } | null;
}

export interface ShoppingItem {
  readonly kind: "sheet" | "paint" | "consumable" | "hardware" | "stock length";
  /** Id in its table. */
  readonly item: string;
  readonly description: string;
  readonly quantity: DecimalText;
  /** As the quantity calls for it: `sheet`, `m`, `cans of 400 ml`, `packs of 25`, `bar of 2400 mm`. */
  readonly unit: string;
  readonly unitPrice: DecimalText;
  readonly amount: DecimalText;
  /** What is needed of it, beside what is bought: `48 needed`. */
  readonly need: string;
  /** Where the price was read. */
  readonly source: string;
  /** Ids of the figures behind its numbers. */
  readonly figures: {
    readonly quantity: string;
    readonly unitPrice: string;
    readonly amount: string;
  };
}

/** Which lengths come from which bars of one section, for the least money. */
export interface PlannedBars extends SawPlan<StockLengthRow> {
  /** Id of the section. */
  readonly stock: string;
}

/** Which lengths are sawn from which bars of one section. */
export interface SawnBars {
  /** Id in the stock-lengths table. */
  readonly stock: string;
  readonly description: string;
  readonly bars: readonly SawnBar[];
  readonly cost: DecimalText;
  /** Proven: no plan costs less. */
  readonly costBound: DecimalText;
}

export interface SawnBar {
  readonly barMm: number;
  /** Lies on the shelf, and need not be bought. */
  readonly fromShelf: boolean;
  /** In sawing order. */
  readonly pieces: readonly SawnLength[];
  /** Good length left, the trim of both ends gone. */
  readonly leftMm: number;
  /** Long enough to be kept, by the price table. */
  readonly kept: boolean;
}
