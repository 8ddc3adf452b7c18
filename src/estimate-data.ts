import type { PartGeometry } from "./drawing/types.ts";
import type { Figure } from "./figure.ts";
import type { QuoteSection, SourceText } from "./job/types.ts";
import type { Caution, SheetTime } from "./machine/types.ts";
import type { Currency } from "./money.ts";
import type { NestedSheet, Unplaced } from "./nesting/types.ts";
import type { Problem } from "./problem.ts";

/**
 * What an estimate is: plain, readonly, versioned data that can be written as JSON or handed to
 * another thread as it is. Amounts and figures are decimal texts, never binary numbers.
 */

/** A decimal such as `12.50`, as many digits as it has. */
export type DecimalText = string;

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
}

export interface FigureRecord extends Omit<Figure, "value"> {
  readonly value: DecimalText;
}

/** One size of sheet as tried for a material and thickness. */
export interface SizeTried {
  readonly sheet: string;
  readonly widthMm: number;
  readonly heightMm: number | null;
  readonly sheets: number;
  readonly cost: DecimalText;
  readonly utilisation: number;
  /** False when it could not take every piece. */
  readonly complete: boolean;
}

/** One material and thickness: the sheets chosen, what lies where, how long they take. */
export interface NestedStock {
  readonly material: string;
  readonly thicknessMm: number;
  /** Id of the size chosen. */
  readonly sheet: string;
  readonly form: "sheet" | "roll";
  readonly marginMm: number;
  readonly gapMm: number;
  readonly sheets: readonly NestedSheet[];
  readonly unplaced: readonly Unplaced[];
  readonly sheetCost: DecimalText;
  readonly costBound: DecimalText;
  readonly utilisation: number;
  readonly bySize: readonly SizeTried[];
  /** Passes made. */
  readonly steps: number;
}

/** A {@link NestedStock} with the machine's time for each of its sheets, in the same order. */
export interface TimedStock extends NestedStock {
  readonly times: readonly SheetTime[];
}

/** What nesting alone answers. */
export interface NestReport {
  readonly version: 1;
  readonly stocks: readonly NestedStock[];
  readonly parts: readonly EstimatedPart[];
  readonly steps: number;
  readonly seed: number;
}

/** What nesting and timing answer. */
export interface TimeReport {
  readonly version: 1;
  readonly machine: { readonly id: string; readonly description: string };
  readonly stocks: readonly TimedStock[];
  readonly steps: number;
  readonly seed: number;
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
}

export interface ShoppingItem {
  readonly kind: "sheet" | "paint" | "hardware" | "stock length";
  /** Id in its table. */
  readonly item: string;
  readonly description: string;
  readonly quantity: DecimalText;
  /** `sheets`, `m`, `cans`, `packs of 25`, `bars of 2400 mm`. */
  readonly unit: string;
  readonly unitPrice: DecimalText;
  readonly amount: DecimalText;
  /** What is needed of it, beside what is bought: `needs 1.8 cans`. */
  readonly need: string;
  /** Where the price was read. */
  readonly source: string;
}

/** Which lengths are sawn from which bars of one section. */
export interface SawnBars {
  /** Id in the stock-lengths table. */
  readonly stock: string;
  readonly description: string;
  readonly barMm: number;
  /** One list of pieces for each bar, in sawing order. */
  readonly bars: readonly (readonly { readonly name: string; readonly lengthMm: number }[])[];
  /** No plan on bars of this length needs fewer. */
  readonly barsBound: number;
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
  readonly cautions: readonly Caution[];
  readonly warnings: readonly Problem[];
  /** Hashes of every text that it was made from. */
  readonly madeFrom: readonly { readonly name: string; readonly sha256: string }[];
}

export interface EstimatedPart {
  readonly name: string;
  readonly material: string;
  readonly thicknessMm: number;
  /** In each piece. */
  readonly quantity: number;
  /** Over the commission. */
  readonly copies: number;
  readonly finish: string | null;
  readonly note: string;
  readonly geometry: PartGeometry;
}
