import type { Amount } from "../money.ts";
import type { Place } from "../problem.ts";

/** Rules of the price and of the quote, and the words that go with them. */

/**
 * Numbers from `settings.csv` of the tables, each of which a job file may say anew under `price:`.
 * Percent values are plain (`12.5` is 12.5 %), sums are in the currency.
 */
export const SETTING_NAMES = [
  /** Of direct cost. */
  "overhead_percent",
  /** Copies made on top of each part's, rounded up. */
  "spoilage_percent",
  /** On top of the area of the parts, where that is what is charged of sheets. */
  "waste_percent",
  /** Of direct cost with overhead. */
  "contingency_percent",
  /** Profit in percent of cost with overhead and contingency. */
  "markup_percent",
  /** The same for a kind of cost alone, instead of `markup_percent`. */
  "markup_materials_percent",
  "markup_bought_in_percent",
  "markup_machine_percent",
  "markup_labour_percent",
  /** Profit in percent of the price, instead of a markup. */
  "margin_percent",
  /** Of the taxed net total. */
  "tax_percent",
  /** The net total is rounded up to a multiple of this; 0 leaves it. */
  "round_total_to",
  /** What bringing the order to the customer costs. */
  "delivery",
  /** What an order comes to at least, net, before rush and discount. */
  "minimum_order",
  /** On top of the price, whatever the days. */
  "rush_percent",
  /** On top of the price for each day that it is wanted sooner than usual. */
  "rush_percent_per_day",
  /** In how many days an order is usually ready. */
  "usual_days",
  /** In how many days this one is wanted. */
  "wanted_days",
  /** Off the price, for each piece after the first, on all of them. */
  "repeat_discount_percent",
  /** No more than this off for repetition. */
  "repeat_discount_most_percent",
  /** Off the price. */
  "discount_percent",
  /** A sum off the price. */
  "discount",
  /** Of the total with tax, on order; the rest on completion. */
  "deposit_percent",
  /** Calendar days from the job's date. */
  "valid_days",
  /** Changes to the design that the price holds. */
  "revisions_included",
  /** What a further one costs, net. */
  "revision_price",
  /** Of work on the order in a working day; without it no lead time is worked out. */
  "hours_per_day",
  /** Working days until what is bought is there. */
  "materials_days",
  /** Working days that bringing the order to the customer takes. */
  "delivery_days",
] as const;

export type SettingName = (typeof SETTING_NAMES)[number];

/** A number with the place where it was read. */
export interface Setting {
  readonly value: Amount;
  readonly place: Place;
  readonly cited: string | null;
}

/** Rules of the price that are chosen by a word, in the same places as the settings. */
export interface Rules {
  /** How work that is repeated gets quicker: T(n) = T1 n^b for each unit, or on the average. */
  readonly learning_model: ChosenRule<"unit" | "cumulative average"> | null;
  /** What of the sheets is charged; null for whole ones. */
  readonly charge_sheets: ChosenRule<SheetCharge> | null;
}

export type SheetCharge = "whole sheets" | "less what is left" | "area of the parts";

export type RuleName = keyof Rules;

export interface ChosenRule<Word extends string> {
  readonly word: Word;
  readonly place: Place;
  readonly cited: string | null;
}

/** Words of the maker from `settings.csv`; `;` begins a new line. */
export const WORDING_NAMES = ["maker", "contact", "not_included"] as const;

export type WordingName = (typeof WORDING_NAMES)[number];

/** What a job file says under `terms:`. */
export interface JobTerms {
  /** In the order in which they fall due; they add up to 100 %. Empty where the job has none. */
  readonly stages: readonly StageRule[];
  /** Beside what is never included by the maker's settings. */
  readonly notIncluded: readonly string[];
  /** For the customer; null where nothing is said. */
  readonly discountReason: string | null;
}

export interface StageRule {
  readonly name: string;
  readonly due: string;
  readonly percent: Amount;
  /** Of the percentage. */
  readonly place: Place;
}
