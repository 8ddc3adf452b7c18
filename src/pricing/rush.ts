import { counted } from "../names.ts";
import { givenRule, settingOf } from "./build-up.ts";
import type { Ledger } from "./ledger.ts";
import { percentText, totalLine } from "./total-line.ts";
import type { Adjusted } from "./total-line.ts";
import type { PricingInput } from "./types.ts";

/**
 * What it costs to have an order sooner than usual: a rule, not a mood. A percentage as it stands, or
 * so many percent for each day, or both added up; of the price of the lines, the minimum included.
 */
export function addRush(ledger: Ledger, input: PricingInput, of: string): Adjusted {
  const { sheet } = ledger;
  const flat = givenRule(sheet, input, "rush_percent", ["rule.rush", "more for rush", "percent"]);
  const byDays = addDaysSooner(ledger, input);
  const percents = [flat, byDays].filter((id) => id !== null);
  if (percents.length === 0) return { lines: [], sum: of };
  const label = "more for rush in all";
  const percent = sheet.derived("rush.percent", label, "percent", "sum", percents);
  const inputs = [of, percent];
  sheet.derived("quote.rush-exact", "rush before rounding", "currency", "percentage", inputs);
  const rounded = ["quote.rush-exact", "money.unit"];
  const figure = sheet.derived("quote.rush", "rush", "currency", "rounded to step", rounded);
  const description = `Rush ${percentText(ledger, percent)}`;
  const basis = byDays === null ? "sooner than usual" : daysText(input);
  return {
    lines: [totalLine(ledger, input, "line", { description, basis, figure })],
    sum: sheet.derived("quote.with-rush", "price with rush", "currency", "sum", [of, figure]),
  };
}

/** Null where the job does not say in how many days it is wanted; later than usual saves nothing. */
function addDaysSooner({ sheet }: Ledger, input: PricingInput): string | null {
  if (settingOf(input, "wanted_days") === null) return null;
  const label = "more for a day sooner";
  const [wanted, usual, each] = [
    givenRule(sheet, input, "wanted_days", ["rule.wanted-days", "wanted in", "days"]),
    givenRule(sheet, input, "usual_days", ["rule.usual-days", "usually ready in", "days"]),
    givenRule(sheet, input, "rush_percent_per_day", ["rule.rush-per-day", label, "percent"]),
  ];
  if (wanted === null || usual === null || each === null) return null;
  const days = [usual, wanted];
  sheet.derived("rush.days-saved", "days sooner", "days", "days sooner", days);
  const inputs = ["rush.days-saved", each];
  return sheet.derived("rush.by-days", "more for sooner", "percent", "product", inputs);
}

/** `in 2 days instead of 5`. */
function daysText(input: PricingInput): string {
  const [wanted, usual] = [settingOf(input, "wanted_days"), settingOf(input, "usual_days")];
  return `in ${counted(wanted?.value.toString() ?? "", "day")} instead of ${usual?.value.toString() ?? ""}`;
}
