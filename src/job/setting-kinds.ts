import type { Amount } from "../money.ts";
import { amount, amountUpTo, choice } from "./cells.ts";
import type { CellKind } from "./cells.ts";
import type { ChosenRule, RuleName, Rules, SettingName, SheetCharge } from "./types.ts";

/** What each rule of the price may be, in settings.csv and in job.yaml. */
export const SETTING_KINDS: Readonly<Record<SettingName, CellKind<Amount>>> = {
  overhead_percent: percentUpTo(500),
  contingency_percent: percentUpTo(200),
  markup_percent: percentUpTo(1000),
  margin_percent: belowAll(),
  tax_percent: percentUpTo(100),
  round_total_to: amount,
  delivery: amount,
  spoilage_percent: percentUpTo(100),
  waste_percent: percentUpTo(500),
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

/** A margin is part of the price: something must remain for the cost. */
function belowAll(): CellKind<Amount> {
  const kind = amountUpTo(100, "a percentage, 0 or more and below 100, such as 12.5");
  return { ...kind, read: (cell) => (Number(cell) < 100 ? kind.read(cell) : null) };
}
