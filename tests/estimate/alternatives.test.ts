import { describe, expect, it } from "vitest";
import { alternativesJob } from "../../src/estimate.ts";
import type { EstimateInput } from "../../src/estimate-data.ts";
import { alternativesText } from "../../src/exports/alternatives-text.ts";
import type { AlternativesReport } from "../../src/stages/alternatives.ts";
import { drain } from "../helpers/drain.ts";
import { estimated, SMALL as GIVEN, SMALL_PARTS, withTexts } from "../helpers/job.ts";

/** With a feed for the thicker plywood. */
const SMALL = withTexts(GIVEN, {
  "price-tables/feeds.csv": [
    ...GIVEN.tables
      .find(({ name }) => name === "price-tables/feeds.csv")!
      .text.trim()
      .split("\n"),
    "own-ply-6,own,birch plywood,6,cut,6,8,10,1,0.2,2026-01-01,test",
  ],
});

function withItems(...items: readonly string[]): EstimateInput {
  const job = SMALL.job.find(({ name }) => name === "job.yaml")!.text;
  return withTexts(SMALL, { "job.yaml": [job.trim(), "alternatives:", ...items] });
}

function priced(input: EstimateInput): AlternativesReport {
  const { value, problems } = drain(alternativesJob(input));
  if (value === null) throw new Error(JSON.stringify(problems));
  return value;
}

function net(input: EstimateInput): string | undefined {
  return estimated(input).quote.find(({ kind }) => kind === "subtotal")?.amount;
}

function rewritten(from: string, to: string): EstimateInput {
  return withTexts(SMALL, { "parts.csv": SMALL_PARTS.text.replaceAll(from, to).split("\n") });
}

describe("alternatives that a job names", () => {
  it("cost what the job costs with the lists changed by hand", () => {
    const report = priced(
      withItems(
        "  - {material: birch plywood, take: birch plywood, take_thickness: 6 mm}",
        "  - {finish: reed, take: none}",
      ),
    );
    const [thick, bare] = report.alternatives.map(({ difference }) => difference?.net);
    expect(bare).toMatchObject({ before: net(SMALL), after: net(rewritten(",reed,", ",,")) });
    expect(Number(bare?.difference)).toBeLessThan(0);
    const byHand = rewritten("birch plywood,4", "birch plywood,6");
    expect(thick).toMatchObject({ before: net(SMALL), after: net(byHand) });
    expect(alternativesText(report)).toMatch(/^no finish instead of reed\n {2}Net total /m);
  });

  it("leave the price of the job as it is", () => {
    expect(net(withItems("  - {finish: reed, take: none}"))).toBe(net(SMALL));
  });

  it("that can not be made are told with the reason, beside the others", () => {
    const report = priced(
      withItems(
        "  - {material: birch plywood, take: oak}",
        "  - {material: glass, take: card}",
        "  - {finish: reed, take: none}",
      ),
    );
    const codes = report.alternatives.map(({ problems }) => problems.map(({ code }) => code));
    expect(codes[0]?.length).toBeGreaterThan(0);
    expect(codes[1]).toContain("alternative-without-parts");
    expect(codes[2]).toEqual([]);
    expect(alternativesText(report)).toContain("can not be made: parts.csv, line");
  });

  it("where none is named, what else is sold of the same thickness is told", () => {
    const report = priced(SMALL);
    expect(report.alternatives).toEqual([]);
    expect(report.soldToo.map(({ stock }) => stock)).toEqual(["birch plywood 4 mm", "card 1 mm"]);
    expect(alternativesText(report)).toContain("write them under alternatives: in job.yaml");
  });
});
