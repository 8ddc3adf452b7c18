import { moneyText } from "../money.ts";
import { givenRule } from "./build-up.ts";
import { addDiscounts } from "./discounts.ts";
import type { Ledger } from "./ledger.ts";
import { addRush } from "./rush.ts";
import { addRounding } from "./rounding.ts";
import { totalLine } from "./total-line.ts";
import type { Adjusted } from "./total-line.ts";
import type { PricingInput, QuoteLine } from "./types.ts";

/**
 * What stands between the lines and the net total, each on a line of its own: up to the minimum of an
 * order, then rush, which is on top of that as well. This is the true price. What is taken off is
 * taken off it in the open, and last the total is made round.
 * @param before how many lines the quote has already.
 */
export function addAdjustments(
  ledger: Ledger,
  input: PricingInput,
  before: number,
): readonly QuoteLine[] {
  const raised = addMinimum(ledger, input, "quote.lines");
  const rushed = addRush(ledger, input, raised.sum);
  const discounted = addDiscounts(ledger, input, rushed.sum);
  const rounded = addRounding(ledger, input, discounted.sum);
  return [raised, rushed, discounted, rounded]
    .flatMap(({ lines }) => lines)
    .filter(({ figure }) => !ledger.sheet.value(figure).isZero())
    .map((line, index) => ({ ...line, line: String(before + index + 1) }));
}

function addMinimum(ledger: Ledger, input: PricingInput, of: string): Adjusted {
  const { sheet } = ledger;
  const label = "least for an order, net";
  const least = givenRule(sheet, input, "minimum_order", ["rule.minimum-order", label, "currency"]);
  if (least === null) return { lines: [], sum: of };
  const sum = sheet.derived("quote.at-least", "price, at least", "currency", "at least", [
    of,
    least,
  ]);
  const figure = sheet.derived("quote.minimum", "up to the minimum", "currency", "difference", [
    sum,
    of,
  ]);
  const basis = `an order is ${moneyText(sheet.value(least), input.currency)} at least`;
  const line = totalLine(ledger, input, "line", { description: "Minimum order", basis, figure });
  return { lines: [line], sum };
}
