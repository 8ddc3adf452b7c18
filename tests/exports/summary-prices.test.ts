import { describe, expect, it } from "vitest";
import { pricesBlock, termsBlock } from "../../src/exports/summary-prices.ts";
import { summary } from "../../src/exports/summary.ts";
import { estimated, SMALL, withTexts } from "../helpers/job.ts";

/** What of the price and the terms a maker sees at a glance. */

const JOB = SMALL.job.find(({ name }) => name === "job.yaml")?.text ?? "";

function made(price: readonly string[], terms: readonly string[] = []) {
  const lines = [JOB, ...price.map((line) => `  ${line}`), "date: 2026-11-26"];
  const job = [...lines, "terms:", ...terms.map((line) => `  ${line}`)].join("\n");
  return estimated(withTexts(SMALL, { "job.yaml": job }));
}

/** Labels of the lines, without what the sections cost. */
function labels(lines: readonly string[]): readonly string[] {
  return lines.flatMap((line) => /^ {2}(\S.*?) {2,}/.exec(line)?.[1] ?? []);
}

const PLAIN = [
  "Direct cost",
  "Overhead",
  "Contingency",
  "Cost in all",
  "Profit at the quoted price",
  "Net total",
  "Tax",
  "Total with tax",
  "Net price of one piece",
];

describe("the price in the summary", () => {
  it("has no line for what the job does not have", () => {
    expect(labels(pricesBlock(estimated(SMALL)))).toEqual(PLAIN);
  });

  it("has minimum, rush, true price and discount, and what was given away", () => {
    const price = ["minimum_order: 5000", "rush_percent: 10", "discount_percent: 5"];
    expect(labels(pricesBlock(made(price)))).toEqual([
      ...PLAIN.slice(0, 4),
      "Sum of the lines",
      "Up to the minimum",
      "Rush",
      "True price, before discount",
      "Profit at the true price",
      "Discount, taken off",
      "Profit given away",
      ...PLAIN.slice(4),
    ]);
  });

  it("tells the profit as a margin and as a markup", () => {
    const lines = pricesBlock(made(["round_total_to: 0"]));
    expect(lines.filter((line) => line.includes("As a m"))).toEqual([
      expect.stringMatching(/As a margin, of the price +20\.0 % {2}price\.margin$/),
      expect.stringMatching(/As a markup, of the cost +25\.0 % {2}price\.markup$/),
    ]);
  });

  it("says what of the machine's charge is its minimum and what is rush", () => {
    const header =
      "id,description,kind,rate,rate_per,minimum_minutes,billing_step_minutes,setup_minutes,load_minutes,bed_width_mm,bed_height_mm,travel_mm_s,acceleration_mm_s2,line_interval_mm,minimum_charge,usual_days,rush_percent_per_day,valid_from,source";
    const row =
      "own,Bureau,service,1.00,minute,0,0,0,0,600,400,200,1000,0.1,300,5,20,2026-01-01,test";
    const job = `${JOB}\nmachine_days: 3\n`;
    const input = withTexts(SMALL, { "job.yaml": job, "price-tables/machines.csv": [header, row] });
    const text = summary(estimated(input));
    expect(text).toMatch(/\n +at its minimum, 300\.00\n +of it rush, 120\.00\n/);
    expect(text).toMatch(/\n {2}Machine .* 420\.00\n/);
  });
});

describe("the terms in the summary", () => {
  it("are what the quote says beside its lines, and nothing where it says nothing", () => {
    const price = [
      "valid_days: 14",
      "deposit_percent: 50",
      "revisions_included: 1",
      "revision_price: 20",
    ];
    const terms = ["not_included: [Fitting, Permits]"];
    const estimate = made(price, terms);
    const [deposit = "", balance = ""] = estimate.terms.stages.map(({ amount }) => amount);
    expect(termsBlock(estimate, 80)).toEqual([
      "Terms",
      "  - valid until 2026-12-10",
      `  - Deposit 50 %, on order: ${deposit}`,
      `  - Balance 50 %, on completion: ${balance}`,
      "  - 1 change included, a further one 20.00 EUR net",
      "  - not included: Fitting; Permits",
    ]);
    expect(termsBlock(estimated(SMALL), 80)).toEqual([]);
  });
});
