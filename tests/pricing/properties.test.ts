import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Estimate } from "../../src/estimate-data.ts";
import { recompute } from "../../src/figure.ts";
import { figureOf } from "../../src/pricing/figure-record.ts";
import { Amount } from "../../src/money.ts";
import { estimated } from "../worked/tool-board.ts";
import { inputOf, randomJob, tablesOf } from "./random-job.ts";
import type { RandomJob } from "./random-job.ts";
import { withPrices } from "../helpers/prices.ts";

/** What holds for any commission; every property says how many cases it really judged. */

const RUNS = 14;
const DIGITS = { EUR: 2, JPY: 0, BHD: 3 } as const;

function amounts({ quote }: Estimate, kind: string): readonly Amount[] {
  return quote.filter((line) => line.kind === kind).map(({ amount }) => new Amount(amount));
}

function sum(values: readonly Amount[]): Amount {
  return values.reduce((a, b) => a.plus(b), new Amount(0));
}

function total(estimate: Estimate): Amount {
  return sum(amounts(estimate, "total"));
}

/** What a customer and a shop would see of it; lines follow the order of the parts list. */
function money({ quote, shopping }: Estimate): readonly string[] {
  return [
    ...quote.map(({ description, quantity, amount }) => `${description} ${quantity} ${amount}`),
    ...shopping.map(({ item, quantity, amount }) => `${item} ${quantity} ${amount}`),
  ].toSorted();
}

/** Every property draws the same jobs: each is worked out once as it is. */
const PLAINLY = new Map<string, Estimate>();

function plainly(job: RandomJob): Estimate {
  const key = JSON.stringify(job);
  const estimate = PLAINLY.get(key) ?? estimated(inputOf(job));
  PLAINLY.set(key, estimate);
  return estimate;
}

/** Runs a property and counts what it judged. */
function judge(property: (job: RandomJob, count: (what: string) => void) => void) {
  const counted = new Map<string, number>();
  const count = (what: string): void => void counted.set(what, (counted.get(what) ?? 0) + 1);
  fc.assert(
    fc.property(randomJob, (job) => property(job, count)),
    { numRuns: RUNS, seed: 20261125 },
  );
  return counted;
}

describe("any quote", () => {
  it("adds up, with the digits of its currency, and again from its own formulas", () => {
    const counted = judge((job, count) => {
      const estimate = plainly(job);
      const [net, tax, whole] = ["subtotal", "tax", "total"].map((kind) =>
        sum(amounts(estimate, kind)),
      );
      expect(sum(amounts(estimate, "line")).toString()).toBe(net?.toString());
      expect(sum([net ?? new Amount(0), tax ?? new Amount(0)]).toString()).toBe(whole?.toString());
      const decimals = [...estimate.quote, ...estimate.shopping].flatMap(({ unitPrice, amount }) =>
        [unitPrice, amount].map((text) => text.split(".")[1]?.length ?? 0),
      );
      expect(new Set(decimals)).toEqual(new Set([DIGITS[job.currency]]));
      const figures = estimate.figures.map(figureOf);
      const again = recompute(figures, new Map());
      expect(figures.filter(({ id, value }) => again.get(id)?.eq(value) !== true)).toEqual([]);
      count(job.currency);
      if (estimate.quote.length > 7) count("many lines");
      if (estimate.quote.some(({ description }) => description === "Rounding")) count("rounding");
    });
    for (const currency of ["EUR", "JPY", "BHD"])
      expect(counted.get(currency)).toBeGreaterThanOrEqual(3);
    expect(counted.get("many lines")).toBeGreaterThanOrEqual(10);
    expect(counted.get("rounding")).toBeGreaterThanOrEqual(5);
  });

  it("has lines that are the direct cost raised by one factor, to half a minor unit", () => {
    const counted = judge((job, count) => {
      const estimate = plainly(job);
      const value = (id: string): Amount =>
        new Amount(estimate.figures.find((one) => one.id === id)?.value ?? NaN);
      const factor = value("price.exact").div(value("cost.direct"));
      const half = new Amount(10).pow(-DIGITS[job.currency]).div(2).plus("1e-9");
      for (const { figure, description, amount, quantity } of estimate.quote) {
        const cost = estimate.figures.find(({ id }) => id === figure.replace(/\.amount$/, ".cost"));
        if (description === "Rounding" || !cost || !figure.endsWith(".amount")) continue;
        const off = new Amount(cost.value).times(factor).minus(amount).abs();
        expect(off.lte(half.times(quantity))).toBe(true);
        count("lines");
      }
    });
    expect(counted.get("lines")).toBeGreaterThanOrEqual(RUNS * 3);
  });
});

describe("a price that rises", () => {
  it("by a tenth, in any row, never makes a quote cheaper", () => {
    const price = /^(sheets|paints|hardware|stock-lengths|rates|machines)\.csv$/;
    const counted = judge((job, count) => {
      const before = total(plainly(job));
      const tables = tablesOf(job);
      const files = Object.keys(tables).filter((name) => price.test(name));
      const dearer = Object.fromEntries(
        files.map((name) => [
          name,
          withDearerRows(tables[name] ?? "", DIGITS[job.currency], () => true),
        ]),
      );
      const all = total(estimated(inputOf(job, { tables: dearer })));
      expect(all.gte(before)).toBe(true);
      count(all.gt(before) ? "dearer" : "same");
      for (const [index, name] of files.entries()) {
        if ((index + job.pieces) % 3 !== 0) continue;
        const one = withDearerRows(
          tables[name] ?? "",
          DIGITS[job.currency],
          (row) => row % 2 === job.pieces % 2,
        );
        const after = total(estimated(inputOf(job, { tables: { [name]: one } })));
        expect(after.gte(before)).toBe(true);
        count("single");
      }
    });
    expect(counted.get("dearer")).toBeGreaterThanOrEqual(RUNS * 0.8);
    expect(counted.get("single")).toBeGreaterThanOrEqual(RUNS);
  });
});

/** Rounded up, so that a small price rises too where the currency has no small coins. */
function withDearerRows(text: string, digits: number, which: (row: number) => boolean): string {
  return withPrices(text, (price, row) =>
    (which(row) ? price.times("1.1").toDecimalPlaces(digits, Amount.ROUND_UP) : price).toString(),
  );
}

describe("twice the pieces", () => {
  it("are twice every count that goes by the piece", () => {
    const counted = judge((job, count) => {
      const twice = estimated(inputOf({ ...job, pieces: 2 * job.pieces }));
      const [one, two] = [plainly(job), twice].map(
        ({ figures }) => new Map(figures.map(({ id, value }) => [id, new Amount(value)])),
      );
      for (const [id, value] of one ?? []) {
        if (!BY_PIECE.test(id) || PER_ORDER.test(id)) continue;
        expect([id, two?.get(id)?.toString()]).toEqual([id, value.times(2).toString()]);
        if (value.gt(0)) count(id.split(".")[0] ?? "");
      }
    });
    expect(counted.get("part")).toBeGreaterThanOrEqual(RUNS);
    for (const what of ["hardware", "length", "work", "finish"])
      expect(counted.get(what)).toBeGreaterThanOrEqual(10);
  });

  const BY_PIECE =
    /^job\.pieces$|\.copies$|^length\..*\.count$|^hardware\..*\.(use-\d+|need|with-spare)$|^work\..*\.count$|^finish\..*\.area$/;
  const PER_ORDER = /^hardware\.wood-glue\.|^work\.peel\./;
});

describe("the same commission in other words", () => {
  it.each([
    ["with its parts in inches", { inches: true }],
    ["with its parts renamed", { nameOf: (index: number): string => `Ä ${9 - index}.b_c` }],
    ["with its parts in another order", { reversed: true }],
  ] as const)("%s costs the same", (what, wording) => {
    const counted = judge((job, count) => {
      expect(money(estimated(inputOf(job, wording)))).toEqual(money(plainly(job)));
      if (job.parts.length > 1) count(what);
    });
    expect(counted.get(what)).toBeGreaterThanOrEqual(RUNS * 0.5);
  });
});
