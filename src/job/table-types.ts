import type { Amount, Currency } from "../money.ts";
import type { Place } from "../problem.ts";
import type { Operation, Rules, Setting, SettingName } from "./types.ts";

/** The rows of the price tables. */

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
  /** As it is set at the machine, in the maker's words: `70 %`; empty where nothing is said. */
  readonly power: string;
  /** Measured by the maker, on the day from which the row holds: goes before one from elsewhere. */
  readonly measured: boolean;
  /** What a service takes for a metre of cut or score, once over; null where it bills time alone. */
  readonly pricePerM: Amount | null;
  /** What a service takes for an engraved m2; null where it bills time alone. */
  readonly pricePerM2: Amount | null;
}

/** machines.csv */
export interface MachineRow extends TableRow {
  readonly description: string;
  /** `service`: somebody else's, billed; `own`: one's own, at its cost. */
  readonly kind: "own" | "service";
  /** What the rate is counted in. */
  readonly ratePer: "minute" | "hour";
  /** Null for an own machine whose hour is worked out from the next five. */
  readonly rate: Amount | null;
  /** What it was bought for; both or neither. */
  readonly price: Amount | null;
  readonly lifeHours: number | null;
  /** Gas, tubes, lenses, filters: what wears out before the machine does. */
  readonly consumablesPerHour: Amount | null;
  /** Drawn while it runs, with chiller and fan; both or neither. */
  readonly powerKw: number | null;
  readonly electricityPerKwh: Amount | null;
  /** Billed at least, for the order; 0 for own machines. */
  readonly minimumMinutes: number;
  /** Minutes are billed in whole multiples of this; 0 bills as measured. */
  readonly billingStepMinutes: number;
  /** An hour, for orders of more than one; null where each minute costs the same. */
  readonly aboveHourRate: Amount | null;
  /** Such hours are billed in whole multiples of this: 60 for started hours; 0 as measured. */
  readonly aboveHourStepMinutes: number;
  /** For each material and thickness. */
  readonly setupCharge: Amount | null;
  /** For each sheet laid down. */
  readonly sheetCharge: Amount | null;
  /** Charged at least, with the first material and for each further one; null for none. */
  readonly minimumCharge: Amount | null;
  readonly minimumFurther: Amount | null;
  /** In how many days the service is ready; with the next, or neither. */
  readonly usualDays: number | null;
  /** On top of the charge for each day that it is to be ready sooner. */
  readonly rushPercentPerDay: number | null;
  /** Once for each material and thickness: focus, air, test cut. */
  readonly setupMinutes: number;
  /** Laying down and clearing one sheet. */
  readonly loadMinutes: number;
  readonly bedWidthMm: number;
  readonly bedHeightMm: number;
  readonly travelMmS: number;
  /** Of the beam along lines and between them. */
  readonly accelerationMmS2: number;
  /** How far the beam may miss a corner. */
  readonly cornerToleranceMm: number;
  /** Before the beam is switched on and after it is switched off, at each contour. */
  readonly settleS: number;
  /** To wait for fume to clear before a sheet is taken out. */
  readonly fumeMinutes: number;
  /** Whether lines are engraved to and fro, or all in one direction. */
  readonly engraveBothWays: boolean;
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
  /** Lost on each bar for its two ends, in all, with the cuts there. */
  readonly endTrimMm: number;
  readonly price: Amount;
  /** Bars there are; null for as many as needed. */
  readonly onHand: number | null;
  /** From this length on what is left over is kept; null: nothing is. */
  readonly keepFromMm: number | null;
}

/**
 * What hand work is counted by. `m2` is finished area once over (faces and edges as the finish says),
 * `coat m2` the same for every coat; `edge m` a metre of cut edge, `hole` a round hole, `slot` one that
 * a sheet of the job stands in, `saw cut` a length sawn from a bar.
 */
export type TaskBasis =
  | "order"
  | "piece"
  | "part"
  | "m2"
  | "coat m2"
  | "edge m"
  | "hole"
  | "slot"
  | "sheet"
  | "saw cut";

/** tasks.csv */
export interface TaskRow extends TableRow {
  readonly description: string;
  readonly basis: TaskBasis;
  /** Minutes for each unit of the basis. */
  readonly minutes: Spread;
  /** Once for the order, before the first unit; null for none. */
  readonly setupMinutes: number | null;
  /** What the time of a unit comes to when its number doubles, percent; null where it stays. */
  readonly learningPercent: number | null;
  /** Id in the rates table. */
  readonly rate: string;
  /** Where a job that does not list it has it: never, always, with paint, or with lengths to saw. */
  readonly usual: "no" | "always" | "painted" | "lengths";
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
  readonly rules: Rules;
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
