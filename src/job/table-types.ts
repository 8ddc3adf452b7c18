import type { Amount, Currency } from "../money.ts";
import type { Place } from "../problem.ts";
import type { Rules, Setting, SettingName, WordingName } from "./setting-types.ts";
import type { Operation } from "./types.ts";

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
  /** Once for each material and thickness: air, test cut, and focus unless that has its own. */
  readonly setupMinutes: number;
  readonly focusMinutes: number;
  /** Laying down one sheet, and clearing it unless that has its own. */
  readonly loadMinutes: number;
  /** Setting the origin on one sheet. */
  readonly originMinutes: number;
  /** Taking parts and rest of one sheet out. */
  readonly unloadMinutes: number;
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
  /** The `id` is the finish; this is what the step is called: `scuff`, `prime`, `colour`. */
  readonly step: string;
  /** Id in the paints table; null for a step that uses nothing up. */
  readonly paint: string | null;
  /** `none` for a step on the edges alone. */
  readonly faces: "front" | "both" | "none";
  /** Whether the edges, also those of holes, are coated. */
  readonly edges: boolean;
  /** Of a step without paint: how often over. */
  readonly coats: number;
  /** By how much less is covered where raw board drinks, percent; null where nothing does. */
  readonly soakPercent: Spread | null;
}

/** What is used up by a finish: what is left on the part, what thins it, and what prepares the part. */
export type PaintKind = "paint" | "thinner" | "abrasive" | "cleaner" | "masking";

/** What one is called when it is bought. */
export type SoldAs = "can" | "tin" | "bottle" | "sachet" | "pad" | "sheet" | "roll" | "pack";

/** paints.csv: what is bought by the can, or by the pad, bottle or roll. */
export interface PaintRow extends TableRow {
  readonly description: string;
  readonly kind: PaintKind;
  readonly soldAs: SoldAs;
  /** In one can; null where it is not sold by volume. */
  readonly contentMl: number | null;
  /** Area that one can covers in one coat before losses, m2; null where solids and film say it. */
  readonly spread: Spread | null;
  /** Volume solids, percent, and dry film of a coat, micrometres: both or neither. */
  readonly solidsPercent: number | null;
  readonly filmUm: number | null;
  /** Thinner added, percent of the paint; and its id in this table, null where none is bought. */
  readonly thinnerPercent: number | null;
  readonly thinner: string | null;
  /** Overspray and what stays in the can, percent of the spread; null where the method says it. */
  readonly lossPercent: number | null;
  /** Id in the methods table; null where the loss is said here. */
  readonly method: string | null;
  /** Whether what lies below can be seen through it; null where nobody says so. */
  readonly clear: boolean | null;
  readonly drying: Drying | null;
  readonly price: Amount;
}

/** How long a coat takes, by the can's label or the data sheet; minutes unless said. */
export interface Drying {
  /** Before the next coat of the same. */
  readonly flash: number;
  /** The next coat comes within so many minutes, or after so many; between, it may wrinkle. */
  readonly recoat: { readonly within: number; readonly after: number } | null;
  /** Before it may be touched: turned over, masked, packed loosely. */
  readonly handle: number;
  /** Before it is hard; null where nothing is said. */
  readonly cureHours: number | null;
}

/** methods.csv: how paint is put on, and what is lost by it. */
export interface MethodRow extends TableRow {
  readonly description: string;
  /** Of the paint, on parts that are large beside the spray. */
  readonly lossPercent: Spread;
  /**
   * Painted past the outline of a part all round, mm: half of the gap at which parts lie to be
   * painted. Small and lacy parts have much outline for their area, and lose more. Null for none.
   */
  readonly pastMm: Spread | null;
}

/** hardware.csv: fixings by the pack and bought-in items. */
export interface HardwareRow extends TableRow {
  readonly description: string;
  readonly kind: "fixing" | "bought-in";
  /** ISO metric thread such as `M5`, or empty; checked against ISO 273 holes. */
  readonly thread: string;
  readonly packSize: number;
  readonly packPrice: Amount;
  /** Of one, g; null where it is not known. */
  readonly weightG: number | null;
  /** Bought on top against loss, percent. */
  readonly sparePercent: number;
  /** What it is to a joint; empty for other things. */
  readonly role: "" | "bolt" | "nut" | "washer" | "insert";
  /** What tells bolts of one thread and length apart: `countersunk`; empty for the usual one. */
  readonly head: string;
  /** Of a bolt below its head, of an insert in all; null where it is not said. */
  readonly lengthMm: number | null;
  /** Of a nut, or the thickness of a washer; null where it is not said. */
  readonly heightMm: number | null;
  /** That an insert goes into. */
  readonly holeMm: number | null;
  /** Of glue in one bottle; null for things that are counted. */
  readonly contentMl: number | null;
  /** Whether whole packs are charged, or the pieces (or ml) that are used. */
  readonly charge: "packs" | "used";
  /** `mains` calls for the caution on electrical work. */
  readonly hazard: "" | "mains" | "drilling" | "solvent";
}

/** stock-lengths.csv: one row for each length a section is sold in; `id` is the section. */
export interface StockLengthRow extends TableRow {
  readonly description: string;
  readonly lengthMm: number;
  /** Null where it is not known. */
  readonly kgPerM: number | null;
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
  /** Cost of what is used up with each unit: card, abrasive, tape, blades; null for nothing. */
  readonly suppliesEach: Amount | null;
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

/** materials.csv: what is known of a sheet material, whatever its thickness. */
export interface MaterialRow extends TableRow {
  readonly material: string;
  readonly densityKgM3: Spread;
}

/** deliveries.csv: one step of a carrier's tariff; the `id` is the tariff. */
export interface DeliveryRow extends TableRow {
  readonly upToKg: number;
  /** Of one parcel of so much. */
  readonly price: Amount;
  /** A box of so many cm3 counts as a kg at least; null where the weight alone counts. */
  readonly cm3PerKg: number | null;
  /** Weights are rounded up to multiples of this; null: as weighed. */
  readonly roundUpKg: number | null;
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

/** taxes.csv: headings of the quote that are taxed otherwise than by `tax_percent`. */
export interface TaxRow extends TableRow {
  readonly sections: readonly QuoteSection[];
  readonly percent: Amount;
}

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
  /** Each a line or several. */
  readonly wordings: ReadonlyMap<WordingName, readonly string[]>;
  readonly sheets: readonly SheetRow[];
  readonly feeds: readonly FeedRow[];
  readonly machines: readonly MachineRow[];
  readonly finishes: readonly FinishRow[];
  readonly paints: readonly PaintRow[];
  readonly methods: readonly MethodRow[];
  readonly hardware: readonly HardwareRow[];
  readonly stockLengths: readonly StockLengthRow[];
  readonly tasks: readonly TaskRow[];
  readonly rates: readonly RateRow[];
  readonly materials: readonly MaterialRow[];
  readonly deliveries: readonly DeliveryRow[];
  readonly kerfs: readonly KerfRow[];
  readonly fits: readonly FitRow[];
  readonly taxes: readonly TaxRow[];
}
