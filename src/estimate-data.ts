import type { PartGeometry } from "./drawing/types.ts";
import type { Fit } from "./fit/fit.ts";
import type { Point } from "./geometry/types.ts";
import type { Handling } from "./job/handling.ts";
import type { Alternative, CutLines, SheetCharge, SourceText, TaskRow } from "./job/types.ts";
import type { Correction } from "./log/comparison.ts";
import type { Entry } from "./log/entries.ts";
import type { MeasuredFeed, WithheldFeed } from "./log/measured-feeds.ts";
import type { MeasuredTask } from "./log/measured-tasks.ts";
import type { Caution, Feed, SheetTime } from "./machine/types.ts";
import type { Currency } from "./money.ts";
import type { Leftover } from "./nesting/leftover.ts";
import type { NestedSheet, Unplaced } from "./nesting/types.ts";
import type {
  DecimalText,
  FigureRecord,
  LeadTime,
  Making,
  QuoteLine,
  QuoteTerms,
  SawnBars,
  ShoppingItem,
} from "./pricing/types.ts";
import type { Place, Problem } from "./problem.ts";

/**
 * What an estimate is: plain, readonly, versioned data that can be written as JSON or handed to
 * another thread as it is. Amounts and figures are decimal texts, never binary numbers.
 */

export type {
  DecimalText,
  FigureRecord,
  FinishMade,
  FixingUsed,
  LeadTime,
  LengthSawn,
  Making,
  PaymentStage,
  QuoteLine,
  QuoteTerms,
  SawnBar,
  SawnBars,
  ShoppingItem,
  TaskDone,
} from "./pricing/types.ts";

/** Texts in, everything else follows: the same input gives the same estimate, byte for byte. */
export interface EstimateInput {
  /** Folder or file name of the job. */
  readonly jobName: string;
  /** Every text file of the job folder; a lone parts list is one text named `parts.csv`. */
  readonly job: readonly SourceText[];
  /** Every CSV of the table set. */
  readonly tables: readonly SourceText[];
  readonly seed: number;
  /** Passes that the nesting makes; more may nest tighter. */
  readonly steps: number;
  /** Quantities changed on screen, by part name, instead of those in the parts list. */
  readonly quantities?: Readonly<Record<string, number>>;
  /** Pieces commissioned, changed on screen, instead of those in the job file. */
  readonly pieces?: number;
  /** Another material or finish, instead of the one that the lists say. */
  readonly instead?: Alternative;
}

/** One choice of sheets as tried for a material and thickness. */
export interface SheetsTried {
  readonly sheets: number;
  readonly cost: DecimalText;
  readonly utilisation: number;
  /** Worth keeping; null when nothing is. */
  readonly leftover: SheetLeftover | null;
  /** How far the cost lies above the bound; null when incomplete, or above a bound of 0. */
  readonly gapPercent: number | null;
  /** False when they could not take every piece. */
  readonly complete: boolean;
  readonly chosen: boolean;
}

/** Sheets of one size alone. */
export interface SizeTried extends SheetsTried {
  readonly sheet: string;
  readonly widthMm: number;
  readonly heightMm: number | null;
  /** Into how many panels of that size a sheet is sawn first; 1 where it is not. */
  readonly panels: number;
}

/** Sheets of several sizes, or with offcuts. */
export interface MixTried extends SheetsTried {
  readonly used: readonly SheetsUsed[];
}

/** Sheets of one size, or lengths of one roll, that a nest takes. */
export interface SheetsUsed {
  readonly sheet: string;
  readonly form: "sheet" | "roll";
  readonly widthMm: number;
  /** Null for a roll. */
  readonly heightMm: number | null;
  readonly marginMm: number;
  readonly gapMm: number;
  /** From the shelf, not bought. */
  readonly offcut: boolean;
  /** Sheets, panels of sheets, or lengths cut off the roll: what the machine works on. */
  readonly count: number;
  /** Into how many panels a bought sheet is sawn; width and height are theirs. 1 where it is not. */
  readonly panels: number;
  /** Sheets to buy, or lengths cut off the roll. */
  readonly bought: number;
  /** Of all lengths of a roll together; null for sheets. */
  readonly lengthMm: number | null;
  readonly cost: DecimalText;
}

/** One material and thickness: the sheets chosen, what lies where, how long they take. */
export interface NestedStock {
  readonly material: string;
  readonly thicknessMm: number;
  /** Id of the size chosen; of a mix all their ids, with ` + ` between. */
  readonly sheet: string;
  /** The sizes chosen, each once; several for a mix. */
  readonly used: readonly SheetsUsed[];
  readonly sheets: readonly NestedSheet[];
  readonly unplaced: readonly Unplaced[];
  readonly sheetCost: DecimalText;
  readonly costBound: DecimalText;
  readonly utilisation: number;
  readonly bySize: readonly SizeTried[];
  /** The best of several sizes or with offcuts; null when none is of use. */
  readonly mix: MixTried | null;
  /** Where that takes offcuts, the best of several sizes without; null when none is of use. */
  readonly boughtMix: MixTried | null;
  /** Worth keeping; null when nothing is. */
  readonly leftover: SheetLeftover | null;
  /** Passes made. */
  readonly steps: number;
}

/** The largest rectangle that is left of one sheet. */
export interface SheetLeftover extends Leftover {
  /** Of the sheet's area, 0 to 1. */
  readonly share: number;
}

/** A {@link NestedStock} with the machine's time for each of its sheets, in the same order. */
export interface TimedStock extends NestedStock {
  readonly times: readonly SheetTime[];
  /** One for each operation. */
  readonly feeds: readonly FeedUsed[];
}

/** A feed with the rows and the rule it comes from. */
export type FeedUsed = Pick<
  Feed,
  "operation" | "feedMmS" | "passes" | "pierceS" | "power" | "measured" | "rows" | "rule"
>;

/** What nesting alone answers. */
export interface NestReport {
  readonly version: 1;
  readonly stocks: readonly NestedStock[];
  readonly parts: readonly EstimatedPart[];
  readonly steps: number;
  readonly seed: number;
  /** Null where the tables do not say it: nesting needs none. */
  readonly currency: Currency | null;
}

/** What nesting answers, with all that was tried compared. */
export interface SheetsReport extends NestReport {
  /** Null where none is named: then no choice has a time. */
  readonly machine: { readonly id: string; readonly description: string } | null;
  readonly compared: readonly ComparedStock[];
}

export interface ComparedStock {
  readonly material: string;
  readonly thicknessMm: number;
  readonly costBound: DecimalText;
  /**
   * The best of several sizes or with offcuts, where there is one, and that without offcuts, then each
   * size, cheapest first.
   */
  readonly choices: readonly ComparedChoice[];
  /** Offcuts that those chosen do not take. */
  readonly offcutsLeft: readonly OffcutLeft[];
}

export interface OffcutLeft {
  readonly offcut: string;
  /** `too small`: for every part. `saves nothing`: with it the job found costs no less. */
  readonly why: "none there" | "too large for the bed" | "too small" | "saves nothing";
}

export interface ComparedChoice extends SheetsTried {
  readonly kind: "size" | "mix" | "offcuts";
  readonly used: readonly SheetsUsed[];
  /** Running, laying down and set-up; null where it can not be known. */
  readonly machineS: number | null;
  /** What the whole job costs the maker with it; null where some copy has no place, or a price is missing. */
  readonly jobCost: DecimalText | null;
  /** Of the sheets' area what is neither part nor left whole. */
  readonly wasteMm2: number;
}

/** What nesting and timing answer. */
export interface TimeReport {
  readonly version: 1;
  readonly machine: { readonly id: string; readonly description: string };
  readonly stocks: readonly TimedStock[];
  /** What comes on top of the running, for each sheet or each of the stocks. */
  readonly handling: readonly Pick<Handling, "label" | "per" | "minutes">[];
  /** What would take less of the machine's time, and what does already; those that apply. */
  readonly shortening: readonly Shortening[];
  /** Null where the tables do not say it. */
  readonly currency: Currency | null;
  readonly steps: number;
  readonly seed: number;
}

/** Something that takes less of the machine's time, by timing the same sheets with and without it. */
export interface Shortening {
  readonly material: string;
  readonly thicknessMm: number;
  readonly kind: "common cuts" | "sheets" | "set-ups" | "drawn twice" | "order";
  /** Whether the times given have it already. */
  readonly done: boolean;
  /** Machine's time, s; of other sheets with laying down. */
  readonly savesS: number;
  /** Less to cut and to score, or for the order to travel, mm; 0 for other sheets. */
  readonly lessMm: number;
  /** The sheets to take instead, where it is about them. */
  readonly instead: OtherSheets | null;
  /** The thickness to make the same of, for which the machine is set up anyway; for set-ups alone. */
  readonly insteadMm: number | null;
}

export interface OtherSheets {
  readonly used: readonly SheetsUsed[];
  /** How much more the sheets cost; below 0 less. */
  readonly costsMore: DecimalText;
}

/** How the slots of the parts take the sheets of the job. */
export interface FitReport {
  readonly version: 1;
  readonly machine: { readonly id: string; readonly description: string } | null;
  readonly cutLines: CutLines;
  readonly sheets: readonly FitSheet[];
  readonly slots: readonly FitSlot[];
}

/** A material and thickness of the job, as it stands in a slot. */
export interface FitSheet {
  readonly material: string;
  readonly thicknessMm: number;
  /** As the maker measured it, or null. */
  readonly measuredMm: number | null;
  /** Between which it may be by its name; both as measured where it was. Null without a fits row. */
  readonly betweenMm: readonly [number, number] | null;
  /** Between which slot less sheet is snug; null without a fits row. */
  readonly snugMm: readonly [number, number] | null;
  /** Of the machine in it; null without a row in kerfs.csv. */
  readonly kerfMm: number | null;
}

/** Slots of one part and one width against the sheet that is nearest to it. */
export interface FitSlot {
  readonly part: string;
  readonly material: string;
  readonly thicknessMm: number;
  readonly count: number;
  /** Their middles, mm, as drawn. */
  readonly at: readonly Point[];
  readonly drawnMm: number;
  /** What the beam adds to it; null when not known, and then no more is. */
  readonly kerfMm: number | null;
  readonly clearanceMm: number | null;
  readonly fit: Fit | null;
  /** With the thinnest and the thickest sheet of that name. */
  readonly between: readonly [Fit, Fit] | null;
  /** Width to draw for a snug fit. */
  readonly drawMm: number | null;
}

export interface Estimate {
  readonly version: 1;
  readonly jobName: string;
  readonly title: string;
  readonly customer: string;
  readonly reference: string;
  readonly date: string | null;
  readonly pieces: number;
  readonly pieceName: string;
  /** For the maker, from the job file. */
  readonly notes: readonly string[];
  readonly currency: Currency;
  readonly machine: { readonly id: string; readonly description: string };
  readonly seed: number;
  readonly steps: number;
  /** Parts in the order of the parts list. */
  readonly parts: readonly EstimatedPart[];
  readonly stocks: readonly TimedStock[];
  readonly figures: readonly FigureRecord[];
  readonly quote: readonly QuoteLine[];
  readonly shopping: readonly ShoppingItem[];
  readonly bars: readonly SawnBars[];
  readonly making: Making;
  /** Null where the tables do not say how long a working day is. */
  readonly leadTime: LeadTime | null;
  readonly terms: QuoteTerms;
  /** What of the sheets is charged. */
  readonly sheetCharge: SheetCharge;
  /** Null while it is worked out, and where nothing is uncertain. */
  readonly range: PriceRange | null;
  readonly cautions: readonly Caution[];
  readonly warnings: readonly Problem[];
  /** Hashes of every text that it was made from. */
  readonly madeFrom: readonly { readonly name: string; readonly sha256: string }[];
}

/** What the job may cost and earn at the price quoted, drawn many times over. */
export interface PriceRange {
  readonly draws: number;
  /** With overhead and without contingency, which is held back for what is drawn. */
  readonly likelyCost: DecimalText;
  readonly contingency: DecimalText;
  /** Of the same: one outcome in ten is below p10, half of them below p50, nine in ten below p90. */
  readonly cost: Quantiles;
  /** Net price less such a cost. */
  readonly profit: Quantiles;
  /** Share of draws that cost more than the net price, 0 to 1. */
  readonly lossChance: number;
  /** Largest swing first. */
  readonly drivers: readonly RangeDriver[];
}

export interface Quantiles {
  readonly p10: DecimalText;
  readonly p50: DecimalText;
  readonly p90: DecimalText;
}

/** A row whose values are uncertain. */
export interface RangeDriver {
  /** Of the first figure that hangs on it. */
  readonly label: string;
  readonly figures: readonly string[];
  readonly place: Place;
  /** The cost with this row alone at its P10 and its P90, the lower first. */
  readonly costs: readonly DecimalText[];
  /** Between the two. */
  readonly swing: DecimalText;
  /** Of the variance, 0 to 1. */
  readonly share: number;
}

export interface EstimatedPart {
  readonly name: string;
  readonly material: string;
  readonly thicknessMm: number;
  /** In each piece. */
  readonly quantity: number;
  /** To make over the commission, spares among them. */
  readonly copies: number;
  /** How many of them are made in case some are spoilt. */
  readonly spare: number;
  readonly finish: string | null;
  readonly note: string;
  readonly geometry: PartGeometry;
  /** Where the beam runs: as drawn, or with the cut lines moved by half the kerf. */
  readonly cut: PartGeometry;
}

/** What all jobs of the log took against what they were estimated to. */
export interface LogReport {
  readonly version: 1;
  /** All that was noted, oldest first. */
  readonly history: readonly Entry[];
  readonly corrections: readonly Correction[];
  /** Rows of feeds.csv that the log would have, for the maker to take or leave. */
  readonly proposed: readonly ProposedFeed[];
  /** Work that was timed, and no row is proposed of. */
  readonly withheld: readonly WithheldFeed[];
  /** Rows of tasks.csv likewise. */
  readonly proposedTasks: readonly ProposedTask[];
}

export interface ProposedTask
  extends
    MeasuredTask,
    Pick<TaskRow, "description" | "basis" | "rate" | "usual" | "hazard" | "section" | "onQuote"> {
  /** As the table's row has them; null for none. */
  readonly learningPercent: DecimalText | null;
  readonly suppliesEach: DecimalText | null;
  readonly source: string;
  /** Minutes that the table gives now. */
  readonly now: number;
}

export interface ProposedFeed extends MeasuredFeed {
  readonly id: string;
  readonly pierceS: number;
  readonly pricePerM: DecimalText | null;
  readonly source: string;
  /** mm/s that the table gives now. */
  readonly now: number;
}
