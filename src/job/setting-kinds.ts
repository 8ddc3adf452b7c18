import { Amount } from "../money.ts";
import { amount, amountUpTo, choice, countUpTo } from "./cells.ts";
import type { CellKind } from "./cells.ts";
import { MOST } from "./limits.ts";
import type { ChosenRule, RuleName, Rules, SettingName, SheetCharge } from "./types.ts";

const WORKING_DAYS = "working days, 0 or more, such as 2";

/** What each rule of the price may be, in settings.csv and in job.yaml. */
export const SETTING_KINDS: Readonly<Record<SettingName, CellKind<Amount>>> = {
  overhead_percent: percentUpTo(500),
  contingency_percent: percentUpTo(200),
  markup_percent: percentUpTo(1000),
  markup_materials_percent: percentUpTo(1000),
  markup_bought_in_percent: percentUpTo(1000),
  markup_machine_percent: percentUpTo(1000),
  markup_labour_percent: percentUpTo(1000),
  margin_percent: belowAll(),
  tax_percent: percentUpTo(100),
  round_total_to: amount,
  delivery: amount,
  spoilage_percent: percentUpTo(100),
  waste_percent: percentUpTo(500),
  minimum_order: amount,
  rush_percent: percentUpTo(MOST.rushPercent),
  rush_percent_per_day: percentUpTo(MOST.rushPercent),
  usual_days: wholeUpTo(MOST.days),
  wanted_days: wholeUpTo(MOST.days),
  repeat_discount_percent: belowAll(),
  repeat_discount_most_percent: belowAll(),
  discount_percent: belowAll(),
  discount: amount,
  deposit_percent: percentUpTo(100),
  valid_days: wholeUpTo(MOST.validDays),
  revisions_included: wholeUpTo(MOST.revisions),
  revision_price: amount,
  hours_per_day: hoursOfDay(),
  materials_days: amountUpTo(MOST.days, WORKING_DAYS),
  delivery_days: amountUpTo(MOST.days, WORKING_DAYS),
};

/** @param chosen what is written under the name, null where it is not there or no such word. */
export function readRules(
  chosen: <Word extends string>(name: RuleName, kind: CellKind<Word>) => ChosenRule<Word> | null,
): Rules {
  return {
    learning_model: chosen("learning_model", choice(["unit", "cumulative average"])),
    charge_sheets: chosen("charge_sheets", choice(SHEET_CHARGES)),
  };
}

const SHEET_CHARGES: readonly SheetCharge[] = [
  "whole sheets",
  "less what is left",
  "area of the parts",
];

export const NO_RULES: Rules = { learning_model: null, charge_sheets: null };

export const RULE_NAMES: readonly string[] = Object.keys(NO_RULES);

/** More is a slip of a digit (common practice, no source). */
function percentUpTo(most: number): CellKind<Amount> {
  return amountUpTo(most, "a percentage, 0 or more, such as 12.5");
}

/** Nobody works through the night on paper. */
function hoursOfDay(): CellKind<Amount> {
  const kind = amountUpTo(24, "hours of a day, above 0 and up to 24, such as 6");
  return { ...kind, read: (cell) => (Number(cell) > 0 ? kind.read(cell) : null) };
}

/** 0 or more. */
function wholeUpTo(most: number): CellKind<Amount> {
  const kind = countUpTo(most);
  const read = (cell: string): Amount | null => {
    const value = kind.read(cell);
    return value === null ? null : new Amount(value);
  };
  return { ...kind, read };
}

/** Of a price, of which something must remain. */
function belowAll(): CellKind<Amount> {
  const kind = amountUpTo(100, "a percentage, 0 or more and below 100, such as 12.5");
  return { ...kind, read: (cell) => (Number(cell) < 100 ? kind.read(cell) : null) };
}
