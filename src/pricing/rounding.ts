import { givenRule, settingOf } from "./build-up.ts";
import type { Ledger } from "./ledger.ts";
import { totalLine } from "./total-line.ts";
import type { Adjusted } from "./total-line.ts";
import type { PricingInput } from "./types.ts";

/** Net totals that are multiples of a step, always upwards. */

/** A line that brings the net total up to a multiple of the rounding step, where there is one. */
export function addRounding(ledger: Ledger, input: PricingInput, of: string): Adjusted {
  const { sheet } = ledger;
  const sum = addRounded(ledger, input, "quote.rounded", "net total, rounded up", of);
  if (sum === of) return { lines: [], sum };
  const figure = sheet.derived("quote.rounding", "rounding", "currency", "difference", [sum, of]);
  const basis = "to a round total";
  const line = totalLine(ledger, input, "line", { description: "Rounding", basis, figure });
  return { lines: [line], sum };
}

/** Up to the rounding step; the same figure where there is none. */
export function addRounded(
  { sheet }: Ledger,
  input: PricingInput,
  id: string,
  label: string,
  of: string,
): string {
  const setting = settingOf(input, "round_total_to");
  if (!setting || setting.value.isZero()) return of;
  const step = "rule.round-to";
  const what = "net total rounded up to a multiple of";
  if (!sheet.has(step)) givenRule(sheet, input, "round_total_to", [step, what, "currency"]);
  return sheet.derived(id, label, "currency", "rounded up to step", [of, step]);
}
