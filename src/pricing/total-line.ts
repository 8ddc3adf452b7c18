import { moneyText } from "../money.ts";
import { trimmed } from "../units.ts";
import type { Ledger } from "./ledger.ts";
import type { PricingInput, QuoteLine } from "./types.ts";

/** Rows of the quote below its sections: what changes the price as a whole, and sums. */

export function totalLine(
  { sheet }: Pick<Ledger, "sheet">,
  { currency }: Pick<PricingInput, "currency">,
  kind: QuoteLine["kind"],
  { description, basis, figure }: Pick<QuoteLine, "description" | "basis" | "figure">,
): QuoteLine {
  const amount = moneyText(sheet.value(figure), currency);
  const one = { quantity: "1", unit: "lot", unitPrice: amount, amount, each: null };
  return { section: "Total", line: "", description, kind, basis, figure, ...one };
}

/** `12.5 %` of a figure. */
export function percentText({ sheet }: Pick<Ledger, "sheet">, id: string): string {
  return `${trimmed(sheet.value(id).toNumber(), 3)} %`;
}

/** Lines added, and the figure of what all lines come to with them. */
export interface Adjusted {
  readonly lines: readonly QuoteLine[];
  readonly sum: string;
}
