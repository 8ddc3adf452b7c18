import { moneyText } from "../money.ts";
import { capital } from "../names.ts";
import { errorAt, warningAt } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { addRounded } from "./rounding.ts";
import { givenRule, settingOf } from "./build-up.ts";
import type { Ledger } from "./ledger.ts";
import { percentText, totalLine } from "./total-line.ts";
import type { Adjusted } from "./total-line.ts";
import type { PricingInput, QuoteLine } from "./types.ts";

/**
 * What is taken off, and favours: in the open, after the true price, each on a line of its own with
 * its reason. What the price would have been stays in sight of the maker.
 */
export function addDiscounts(ledger: Ledger, input: PricingInput, of: string): Adjusted {
  const { sheet } = ledger;
  const reason = input.job.terms.discountReason ?? "";
  const lines = [
    ...ofPercent(ledger, input, of, {
      what: "repeat-discount",
      label: "repeat discount",
      percent: addRepeat(ledger, input),
      basis: `on all of ${input.job.pieces} x ${input.job.pieceName}`,
    }),
    ...ofPercent(ledger, input, of, {
      what: "percent-discount",
      label: "discount",
      percent: givenRule(sheet, input, "discount_percent", [
        "rule.discount",
        "taken off",
        "percent",
      ]),
      basis: reason,
    }),
    ...ofSum(ledger, input, reason),
  ];
  if (lines.length === 0) return { lines, sum: of };
  addTruePrice(ledger, input, of);
  const inputs = [of, ...lines.map(({ figure }) => figure)];
  const label = "price less discount";
  return { lines, sum: sheet.derived("quote.discounted", label, "currency", "sum", inputs) };
}

/** What would be asked without, as round as the net total. */
function addTruePrice(ledger: Ledger, input: PricingInput, of: string): void {
  const { sheet } = ledger;
  const label = "true price, before discount";
  if (addRounded(ledger, input, "price.true", label, of) === of)
    sheet.derived("price.true", label, "currency", "sum", [of]);
  const profit = ["price.true", "cost.total"];
  sheet.derived("price.true-profit", "profit at the true price", "currency", "difference", profit);
}

/** What the discount has cost, once the net total is known. */
export function addGivenAway({ sheet }: Ledger): void {
  if (!sheet.has("price.true")) return;
  const inputs = ["price.true", "quote.net"];
  sheet.derived("price.given-away", "profit given away", "currency", "difference", inputs);
}

interface Percentage {
  readonly what: string;
  readonly label: string;
  /** Null where there is none. */
  readonly percent: string | null;
  readonly basis: string;
}

function ofPercent(
  ledger: Ledger,
  input: PricingInput,
  of: string,
  { what, label, percent, basis }: Percentage,
): readonly QuoteLine[] {
  const { sheet } = ledger;
  if (percent === null) return [];
  const id = `quote.${what}`;
  const exact = `${label} before rounding`;
  sheet.derived(`${id}-exact`, exact, "currency", "percentage", [of, percent]);
  const rounded = [`${id}-exact`, "money.unit"];
  sheet.derived(`${id}-sum`, label, "currency", "rounded to step", rounded);
  const figure = sheet.derived(id, `${label}, taken off`, "currency", "negative", [`${id}-sum`]);
  const description = `${capital(label)} ${percentText(ledger, percent)}`;
  return [totalLine(ledger, input, "line", { description, basis, figure })];
}

function ofSum(ledger: Ledger, input: PricingInput, basis: string): readonly QuoteLine[] {
  const { sheet } = ledger;
  const sum = givenRule(sheet, input, "discount", ["rule.discount-sum", "discount", "currency"]);
  if (sum === null) return [];
  const label = "discount, taken off";
  const figure = sheet.derived("quote.discount", label, "currency", "negative", [sum]);
  return [totalLine(ledger, input, "line", { description: "Discount", basis, figure })];
}

/** Woodworkers association article: 5 % for each repetition, at most 30 %; here on all pieces. */
function addRepeat({ sheet }: Ledger, input: PricingInput): string | null {
  const [each, most] = [
    givenRule(sheet, input, "repeat_discount_percent", [
      "rule.repeat",
      "off for each piece after the first",
      "percent",
    ]),
    givenRule(sheet, input, "repeat_discount_most_percent", [
      "rule.repeat-most",
      "no more off for repetition than",
      "percent",
    ]),
  ];
  if (each === null || most === null) return null;
  const inputs = ["job.pieces", each, most];
  return sheet.derived(
    "discount.repeat",
    "off for repetition",
    "percent",
    "repeat percentage",
    inputs,
  );
}

/** A discount that leaves nothing to pay, or less than the work costs. */
export function discountProblems({ sheet }: Ledger, input: PricingInput): readonly Problem[] {
  const names = ["discount", "discount_percent", "repeat_discount_percent"] as const;
  const setting = names
    .map((name) => settingOf(input, name))
    .find((one) => one !== null && !one.value.isZero());
  if (!setting || !sheet.has("quote.discounted")) return [];
  const money = (id: string): string => moneyText(sheet.value(id), input.currency);
  const left = sheet.value("quote.discounted");
  const fault = {
    found: setting.value.toString(),
    mend: "Lower the discount",
  };
  if (!left.isPositive() || left.isZero())
    return [
      errorAt(setting.place, {
        ...fault,
        code: "discount-too-large",
        expected: `less than the true price of ${money("price.true")}`,
      }),
    ];
  if (left.gte(sheet.value("cost.total"))) return [];
  return [
    warningAt(setting.place, {
      ...fault,
      code: "discount-below-cost",
      expected: `a price that covers the cost of ${money("cost.total")}, and ${money("quote.discounted")} is left of it`,
      mend: "Lower the discount, or leave it if the loss is meant",
    }),
  ];
}
