import type { Amount, Currency } from "../money.ts";
import type { Place, Problem } from "../problem.ts";

/** What a person asks for: the checked parts list and the files beside it. */

/** A text file of the job folder or of a table set, as read from disk. */
export interface SourceText {
  /**
   * Path relative to the job folder, with `/`: `drawings/heron.svg`. A table begins with the name
   * of its folder, `price-tables/hardware.csv`, because a job may have a hardware.csv as well.
   */
  readonly name: string;
  readonly text: string;
  /** SHA-256 of the bytes, hex: says later which version an estimate was made from. */
  readonly sha256: string;
  /** What is wrong with single rows or cells as they lay in the file, where it was no plain text. */
  readonly problems?: readonly Problem[];
}

/** How a part may be turned on the sheet: freely, by quarter turns, by half turns, not at all. */
export type Turn = "any" | "quarter" | "half" | "fixed";

/** The outline of a part without a drawing, in mm. */
export type ShapeOutline =
  | {
      readonly kind: "rectangle";
      readonly widthMm: number;
      readonly heightMm: number;
      /** 0 for sharp corners. */
      readonly cornerRadiusMm: number;
    }
  | { readonly kind: "disc"; readonly diameterMm: number }
  | { readonly kind: "ring"; readonly diameterMm: number; readonly boreMm: number }
  /** Regular, on one of its sides; the diameter is that of the circle through its corners. */
  | { readonly kind: "polygon"; readonly diameterMm: number; readonly sides: number }
  /** Straight, with half circles at the ends of its longer side. */
  | { readonly kind: "slot"; readonly widthMm: number; readonly heightMm: number }
  /** One plate of a crossed pair: a rectangle with a slot that opens at one side. */
  | {
      readonly kind: "half-lap";
      readonly widthMm: number;
      readonly heightMm: number;
      readonly slotWidthMm: number;
      readonly slotDepthMm: number;
      /** From the left side to the middle of the slot. */
      readonly slotAtMm: number;
      readonly slotSide: "top" | "bottom";
    };

/** Round holes, measured from the lower left corner of the shape's box, or about its middle. */
export type HolePattern = { readonly diameterMm: number } & (
  | { readonly kind: "at"; readonly points: readonly Readonly<Record<"xMm" | "yMm", number>>[] }
  /** Four, as far from the sides of the box as said. */
  | { readonly kind: "corners"; readonly insetMm: number }
  | { readonly kind: "centre" }
  /** Evenly on a circle about the middle, the first straight above it. */
  | { readonly kind: "circle"; readonly count: number; readonly circleMm: number }
  /** Rows and columns about the middle. */
  | {
      readonly kind: "grid";
      readonly columns: number;
      readonly rows: number;
      readonly pitchXMm: number;
      readonly pitchYMm: number;
    }
);

export type Shape = ShapeOutline & { readonly holes?: readonly HolePattern[] };

/** What a part looks like. */
export type PartForm =
  | {
      readonly kind: "drawing";
      /** Name of a {@link SourceText} of the job folder. */
      readonly path: string;
      /** Element id or DXF layer, for one part of many; null for the whole drawing. */
      readonly id: string | null;
    }
  | Shape;

export interface Part {
  /** Unique in the job. */
  readonly name: string;
  /** Copies in each piece commissioned, 1 or more. */
  readonly quantity: number;
  /** Where the quantity was said, when not in its row. */
  readonly quantityPlace?: Place;
  /** As the sheet table spells it. */
  readonly material: string;
  readonly thicknessMm: number;
  readonly form: PartForm;
  readonly turn: Turn;
  /** Whether it may be laid face down. */
  readonly flip: boolean;
  /** Id in the finishes table, or null for bare. */
  readonly finish: string | null;
  readonly note: string;
  /** Cells of columns that are not known, by header. */
  readonly other?: Readonly<Record<string, string>>;
  /** Its row; `column` is null. */
  readonly place: Place;
}

export type Operation = "cut" | "score" | "engrave";

/** "Lines of this class (or stroke colour, id or layer) in a drawing are engraved." */
export interface LineRule {
  readonly by: "class" | "stroke" | "id" | "layer";
  /** Compared without regard to case. */
  readonly value: string;
  readonly operation: Operation;
  readonly place: Place;
}

/** A sheet as the maker measured it, of a material and thickness by its name. */
export interface MeasuredSheet {
  readonly material: string;
  readonly thicknessMm: number;
  readonly measuredMm: number;
  readonly place: Place;
}

/** Whether a layout has the cut lines where they are drawn, or half the kerf outside the part. */
export type CutLines = "as drawn" | "moved by half the kerf";

/** How often a thing listed beside the parts is needed. */
export type UsePer = "order" | "piece" | "part" | "hole";

/** A row of the job's hardware.csv. */
export interface HardwareUse {
  /** Id in the hardware table. */
  readonly item: string;
  readonly quantity: number;
  /** `part` and `hole` count over all copies of `part`. */
  readonly per: UsePer;
  readonly part: string | null;
  /** With `per: hole`: only round holes of this diameter count; null counts every round hole. */
  readonly holeDiameterMm: number | null;
  readonly note: string;
  readonly place: Place;
}

/** A row of the job's lengths.csv. */
export interface LengthUse {
  readonly name: string;
  /** Id (the section) in the stock-lengths table. */
  readonly stock: string;
  readonly lengthMm: number;
  /** In each piece commissioned. */
  readonly quantity: number;
  readonly finish: string | null;
  readonly note: string;
  readonly place: Place;
}

/** A row of the job's hand-work.csv. */
export interface HandWorkUse {
  /** Id in the tasks table. */
  readonly task: string;
  /** Only the named part, where the task goes by part, area or hole; null for all. */
  readonly part: string | null;
  /** How often, per unit of the task's basis; 1 unless the job says otherwise, 0 leaves it out. */
  readonly quantity: number;
  /** Overrides the table's minutes. */
  readonly minutes: Amount | null;
  readonly note: string;
  readonly place: Place;
}

/** Percentages and rules of the price; each with the place it was read. */
export interface Setting {
  readonly value: Amount;
  readonly place: Place;
  readonly cited: string | null;
}

export interface Job {
  /** Folder or file name, for headings where no title is given. */
  readonly name: string;
  readonly title: string;
  readonly customer: string;
  readonly reference: string;
  /** ISO 8601 day the prices hold for, or null: then each table's newest rows hold. */
  readonly date: string | null;
  /** Pieces commissioned, 1 or more. */
  readonly pieces: number;
  readonly piecesPlace: Place;
  /** What one piece is called: `way-marker`. */
  readonly pieceName: string;
  /** Id in the machines table, or null for the table set's own. */
  readonly machine: string | null;
  /** Where the job names its machine, if it does. */
  readonly machinePlace?: Place;
  readonly lineRules: readonly LineRule[];
  readonly measured: readonly MeasuredSheet[];
  readonly cutLines: CutLines;
  readonly settings: ReadonlyMap<SettingName, Setting>;
  readonly notes: readonly string[];
  readonly parts: readonly Part[];
  readonly hardware: readonly HardwareUse[];
  readonly lengths: readonly LengthUse[];
  readonly handWork: readonly HandWorkUse[];
}

/**
 * Rules of the price, from `settings.csv` of the tables, each of which a job file may override
 * under `price:`. Percent values are plain (`12.5` is 12.5 %).
 */
export type SettingName =
  /** Of direct cost. */
  | "overhead_percent"
  /** Of direct cost with overhead. */
  | "contingency_percent"
  /** Profit in percent of cost with overhead and contingency. */
  | "markup_percent"
  /** Profit in percent of the price, instead of a markup. */
  | "margin_percent"
  /** Of the taxed net total. */
  | "tax_percent"
  /** The net total is rounded up to a multiple of this, in the currency; 0 leaves it. */
  | "round_total_to"
  /** What bringing the order to the customer costs, in the currency. */
  | "delivery";

export const SETTING_NAMES: readonly SettingName[] = [
  "overhead_percent",
  "contingency_percent",
  "markup_percent",
  "margin_percent",
  "tax_percent",
  "round_total_to",
  "delivery",
];

/** A row of a table, as dated and sourced as its values are. */
export interface TableRow {
  readonly id: string;
  /** The row; `column` is null. */
  readonly place: Place;
  /** ISO 8601 day from which it holds. */
  readonly validFrom: string;
  /** Where its values come from. */
  readonly source: string;
}

/** sheets.csv */
export interface SheetRow extends TableRow {
  readonly material: string;
  readonly thicknessMm: number;
  readonly form: "sheet" | "roll";
  readonly widthMm: number;
  /** Null for a roll. */
  readonly heightMm: number | null;
  /** A sheet, or a metre of roll. */
  readonly price: Amount;
  /** Kept free along every edge. */
  readonly marginMm: number;
  /** Kept free between pieces. */
  readonly gapMm: number;
  /** Null: as many as needed. */
  readonly onHand: number | null;
}

/** A value with its honest spread. */
export interface Spread {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/** feeds.csv: how fast one machine works one material and thickness. */
export interface FeedRow extends TableRow {
  readonly machine: string;
  readonly material: string;
  readonly thicknessMm: number;
  readonly operation: Operation;
  /** Slowest, likely and fastest feed, mm/s. For engraving the raster speed. */
  readonly feedMmS: Spread;
  /** 1 or more. */
  readonly passes: number;
  /** Start of each contour and pass: beam on, pierce, settle; s. */
  readonly pierceS: number;
}

/** machines.csv */
export interface MachineRow extends TableRow {
  readonly description: string;
  /** `service`: somebody else's, billed; `own`: one's own, at its cost. */
  readonly kind: "own" | "service";
  /** What the rate is counted in. */
  readonly ratePer: "minute" | "hour";
  readonly rate: Amount;
  /** Billed at least, for the order; 0 for own machines. */
  readonly minimumMinutes: number;
  /** Minutes are billed in whole multiples of this; 0 bills as measured. */
  readonly billingStepMinutes: number;
  /** Once for each material and thickness: focus, air, test cut. */
  readonly setupMinutes: number;
  /** Laying down and clearing one sheet. */
  readonly loadMinutes: number;
  readonly bedWidthMm: number;
  readonly bedHeightMm: number;
  readonly travelMmS: number;
  /** Of the beam along lines and between them. */
  readonly accelerationMmS2: number;
  /** Of the carriage to and fro while engraving; null when it is the same. */
  readonly rasterAccelerationMmS2: number | null;
  /** Distance of engraved lines, mm. */
  readonly lineIntervalMm: number;
}

/** finishes.csv: one step of a recipe; a finish has one row for each step, in order. */
export interface FinishRow extends TableRow {
  /** The `id` is the finish; this is what the step is called: `prime`, `colour`. */
  readonly step: string;
  /** Id in the paints table. */
  readonly paint: string;
  readonly faces: "front" | "both";
  /** Whether the edges, also those of holes, are coated. */
  readonly edges: boolean;
  readonly coats: number;
}

/** paints.csv: what is bought by the can (or sheet, for abrasives). */
export interface PaintRow extends TableRow {
  readonly description: string;
  /** In one can. */
  readonly contentMl: number;
  /** Area that one can covers in one coat before losses, m2; null where solids and film say it. */
  readonly spread: Spread | null;
  /** Volume solids, percent, and dry film of a coat, micrometres: both or neither. */
  readonly solidsPercent: number | null;
  readonly filmUm: number | null;
  /** Overspray and what stays in the can, percent of the spread. */
  readonly lossPercent: number;
  readonly price: Amount;
}

/** hardware.csv: fixings by the pack and bought-in items. */
export interface HardwareRow extends TableRow {
  readonly description: string;
  readonly kind: "fixing" | "bought-in";
  /** ISO metric thread such as `M5`, or empty; checked against ISO 273 holes. */
  readonly thread: string;
  readonly packSize: number;
  readonly packPrice: Amount;
  /** Bought on top against loss, percent. */
  readonly sparePercent: number;
  /** `mains` calls for the caution on electrical work. */
  readonly hazard: "" | "mains" | "drilling" | "solvent";
}

/** stock-lengths.csv: one row for each length a section is sold in; `id` is the section. */
export interface StockLengthRow extends TableRow {
  readonly description: string;
  readonly lengthMm: number;
  readonly sawKerfMm: number;
  /** Cut off each bar for its factory ends, in all. */
  readonly endTrimMm: number;
  readonly price: Amount;
}

/**
 * What hand work is counted by. `m2` is finished area once over (faces and edges as the finish says),
 * `coat m2` the same for every coat; `hole` a round hole, `saw cut` a length sawn from a bar.
 */
export type TaskBasis =
  | "order"
  | "piece"
  | "part"
  | "m2"
  | "coat m2"
  | "hole"
  | "sheet"
  | "saw cut";

/** tasks.csv */
export interface TaskRow extends TableRow {
  readonly description: string;
  readonly basis: TaskBasis;
  /** Minutes for each unit of the basis. */
  readonly minutes: Spread;
  /** Id in the rates table. */
  readonly rate: string;
  /** Where a job's hand-work.csv is silent about it: never, always, or when some part is painted. */
  readonly usual: "no" | "always" | "painted";
  readonly hazard: "" | "mains" | "drilling" | "solvent";
  /** Heading on the customer's quote. */
  readonly section: QuoteSection;
  /** What the quote says of it under that heading; empty for work that goes unnamed. */
  readonly onQuote: string;
}

/** kerfs.csv: how wide a machine's beam cuts one material and thickness. */
export interface KerfRow extends TableRow {
  readonly machine: string;
  readonly material: string;
  readonly thicknessMm: number;
  readonly kerfMm: number;
}

/** fits.csv: how sheets of a material sit in slots, and how far they depart from their name. */
export interface FitRow extends TableRow {
  readonly material: string;
  /** Slot less sheet for a snug fit; below 0 the sheet is pressed in. */
  readonly clearanceLowMm: number;
  readonly clearanceHighMm: number;
  /** A sheet may be over its name by `overMm` and `overPerMm` for each mm of it; under likewise. */
  readonly overMm: number;
  readonly overPerMm: number;
  readonly underMm: number;
  readonly underPerMm: number;
}

/** rates.csv: what an hour of hand work costs. */
export interface RateRow extends TableRow {
  readonly description: string;
  readonly perHour: Amount;
}

/** The headings of the customer's quote, in order. */
export type QuoteSection =
  | "Design and preparation"
  | "Materials"
  | "Cutting"
  | "Finishing"
  | "Fixings and bought-in parts"
  | "Making and assembly"
  | "Delivery";

export const QUOTE_SECTIONS: readonly QuoteSection[] = [
  "Design and preparation",
  "Materials",
  "Cutting",
  "Finishing",
  "Fixings and bought-in parts",
  "Making and assembly",
  "Delivery",
];

/** The price tables that hold for a job: only rows valid on its date, job rows before built-in ones. */
export interface Tables {
  /** Null when settings.csv does not say. */
  readonly currency: Currency | null;
  /** The cell that says it. */
  readonly currencyPlace: Place | null;
  /** Id of the machine that jobs use unless they say otherwise. */
  readonly machine: string | null;
  readonly settings: ReadonlyMap<SettingName, Setting>;
  readonly sheets: readonly SheetRow[];
  readonly feeds: readonly FeedRow[];
  readonly machines: readonly MachineRow[];
  readonly finishes: readonly FinishRow[];
  readonly paints: readonly PaintRow[];
  readonly hardware: readonly HardwareRow[];
  readonly stockLengths: readonly StockLengthRow[];
  readonly tasks: readonly TaskRow[];
  readonly rates: readonly RateRow[];
  readonly kerfs: readonly KerfRow[];
  readonly fits: readonly FitRow[];
}
