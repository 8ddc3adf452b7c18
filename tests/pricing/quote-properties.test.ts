import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { QUOTE_SECTIONS } from "../../src/job/types.ts";
import { Amount } from "../../src/money.ts";
import type { Quote } from "../../src/pricing/quote.ts";
import { amounts, quoteOf, sum } from "./quoting.ts";
import type { Given } from "./quoting.ts";

/** What holds for any costs under any rules of the quote, in every kind of currency. */

const RUNS = 1000;

/** ISO 4217 (scope; list from memory): no minor unit, two digits, three. */
const DIGITS: Readonly<Record<string, number>> = { JPY: 0, KRW: 0, EUR: 2, BHD: 3, KWD: 3 };

const given: fc.Arbitrary<Given> = fc.record({
  costs: fc
    .uniqueArray(fc.constantFrom(...QUOTE_SECTIONS), { minLength: 1 })
    .chain((sections) =>
      fc
        .tuple(...sections.map(() => hundredths(1_000_000)))
        .map((costs) => Object.fromEntries(sections.map((one, at) => [one, costs[at] ?? "0"]))),
    )
    .filter((costs) => Object.values(costs).some((cost) => Number(cost) > 0)),
  settings: fc.record(
    {
      overhead_percent: hundredths(3000),
      contingency_percent: hundredths(2500),
      markup_percent: hundredths(6000),
      markup_materials_percent: hundredths(6000),
      markup_labour_percent: hundredths(9000),
      tax_percent: hundredths(2700),
      round_total_to: fc.constantFrom("0", "1", "5", "10"),
      minimum_order: fc.constantFrom("0", "50", "60000"),
      rush_percent: hundredths(5000),
      discount_percent: hundredths(4000),
      deposit_percent: hundredths(10_000),
    },
    { requiredKeys: [] },
  ),
  currency: fc.constantFrom("JPY", "KRW", "EUR", "BHD", "KWD"),
  taxes: fc.constantFrom(
    [],
    ["reduced,Delivery,7,2026-01-01,test"],
    ["reduced,Materials;Cutting,5.5,2026-01-01,test", "free,Finishing,0,2026-01-01,test"],
  ),
  job: fc
    .uniqueArray(fc.integer({ min: 1, max: 99 }), { maxLength: 5 })
    .map((cuts) => stagesOf([0, ...cuts.toSorted((a, b) => a - b), 100])),
});

function hundredths(most: number): fc.Arbitrary<string> {
  return fc.integer({ min: 0, max: most }).map((value) => new Amount(value).div(100).toString());
}

/** Lines of job.yaml for stages between these percentages; none for one stage alone. */
function stagesOf(edges: readonly number[]): readonly string[] {
  if (edges.length <= 2) return [];
  const stages = edges.slice(1).map((edge, index) => edge - (edges[index] ?? 0));
  const lines = stages.flatMap((percent, index) => [
    `    - name: Stage ${index + 1}`,
    `      percent: ${percent}`,
    "      due: as agreed",
  ]);
  return ["terms:", "  stages:", ...lines];
}

/** Runs a property over the same quotes and counts what it judged. */
function judge(property: (quote: Quote, digits: number) => readonly string[]) {
  const counted = new Map<string, number>();
  fc.assert(
    fc.property(given, (one) => {
      const whats = property(quoteOf(one), DIGITS[one.currency ?? "EUR"] ?? NaN);
      for (const what of whats) counted.set(what, (counted.get(what) ?? 0) + 1);
    }),
    { numRuns: RUNS, seed: 20261126 },
  );
  return (what: string): number => counted.get(what) ?? 0;
}

describe("any quote", () => {
  it("has lines that add up to the net, and tax that makes it the total, in coins there are", () => {
    const counted = judge((quote, digits) => {
      const [net = sum([]), total] = ["subtotal", "total"].map((kind) => sum(amounts(quote, kind)));
      expect(sum(amounts(quote, "line")).toString()).toBe(net.toString());
      expect(net.plus(sum(amounts(quote, "tax"))).toString()).toBe(total?.toString());
      const texts = [...quote.lines, ...quote.terms.stages].map(({ amount }) => amount);
      const decimals = texts.map((amount) => amount.split(".")[1]?.length ?? 0);
      expect(new Set(decimals)).toEqual(new Set([digits]));
      return ["Minimum order", "Rush", "Discount", "Rounding"].filter((what) =>
        quote.lines.some(({ description }) => description.startsWith(what)),
      );
    });
    for (const what of ["Minimum order", "Rush", "Discount", "Rounding"])
      expect([what, counted(what) >= 100]).toEqual([what, true]);
  });

  it("is taxed once for each rate, on amounts that are the net together", () => {
    const counted = judge((quote, digits) => {
      const taxes = quote.lines.filter(({ kind }) => kind === "tax");
      const [net = new Amount(NaN)] = amounts(quote, "subtotal");
      const bases = taxes.map(({ basis }) => /^on (-?[\d.]+)/.exec(basis)?.[1] ?? net);
      expect(sum(bases).toString()).toBe(net.toString());
      const expected = taxes.map(({ description }, at) => {
        const rate = /([\d.]+) %$/.exec(description)?.[1] ?? NaN;
        return new Amount(bases[at] ?? NaN).times(rate).div(100).toFixed(digits);
      });
      expect(taxes.map(({ amount }) => amount)).toEqual(expected);
      return [`${taxes.length} rates`];
    });
    expect(counted("1 rates")).toBeGreaterThanOrEqual(300);
    expect(counted("2 rates")).toBeGreaterThanOrEqual(100);
    expect(counted("3 rates")).toBeGreaterThanOrEqual(50);
  });

  it("has stages that add up to the total, none below 0", () => {
    const counted = judge(({ lines, terms: { stages } }, digits) => {
      if (stages.length === 0) return [];
      const parts = stages.map(({ amount }) => new Amount(amount));
      const [total] = amounts({ lines }, "total");
      expect(sum(parts).toString()).toBe(total?.toString());
      expect(parts.some((part) => part.isNegative())).toBe(false);
      return [`stages in ${digits} digits`];
    });
    for (const digits of [0, 2, 3])
      expect(counted(`stages in ${digits} digits`)).toBeGreaterThanOrEqual(80);
  });
});
