import { describe, expect, it } from "vitest";
import { currencyOf } from "../../src/money.ts";
import type { QuoteLine } from "../../src/pricing/types.ts";
import { lineDifferences } from "../../src/stages/line-differences.ts";

function tax(amount: string): QuoteLine {
  return {
    section: "Total",
    line: "",
    description: "Tax 7 %",
    quantity: "1",
    unit: "lot",
    unitPrice: amount,
    amount,
    kind: "tax",
    basis: "",
    figure: "quote.tax",
    each: null,
  };
}

function told(before: readonly string[], after: readonly string[]) {
  return lineDifferences(before.map(tax), after.map(tax), currencyOf("EUR")!).map(
    ({ before: was, after: is, difference }) => [was, is, difference],
  );
}

describe("lines of two quotes", () => {
  it("are paired in order where they say the same: two rates of tax of one percent", () => {
    expect(told(["3.96", "19.16"], ["3.96", "19.16"])).toEqual([
      ["3.96", "3.96", "0.00"],
      ["19.16", "19.16", "0.00"],
    ]);
    expect(told(["3.96", "19.16"], ["4.00"])).toEqual([
      ["3.96", "4.00", "0.04"],
      ["19.16", null, "-19.16"],
    ]);
  });
});
