import { describe, expect, it } from "vitest";
import { checkJob } from "../../src/estimate.ts";
import type { EstimateInput, FigureRecord } from "../../src/estimate-data.ts";
import { sourceText } from "../../src/exports/figure-text.ts";
import type { Problem } from "../../src/problem.ts";
import { compared, estimated, SMALL, withTexts } from "../helpers/job.ts";
import { TABLES } from "../job/texts.ts";

const HEADER = TABLES["feeds.csv"]![0]!;
const CARD = "own-card,own,card,1,cut,40,60,80,1,0.1,2026-01-01,test";

/** The small job, whose plywood is 4 mm, with these rows for it: thickness and feed. */
function withFeeds(...rows: readonly (readonly [number, number])[]): EstimateInput {
  const lines = rows.map(
    ([mm, feed]) => `ply-${mm},own,birch plywood,${mm},cut,,${feed},,1,0.2,2026-01-01,test`,
  );
  return withTexts(SMALL, { "price-tables/feeds.csv": [HEADER, CARD, ...lines] });
}

function figure(input: EstimateInput, id: string): FigureRecord {
  return estimated(input).figures.find((one) => one.id === id)!;
}

function values(input: EstimateInput): readonly string[] {
  return estimated(input).figures.map(({ id, value }) => `${id} ${Number(value).toFixed(9)}`);
}

function codes(problems: readonly Problem[]): readonly string[] {
  return problems.map(({ code }) => code);
}

describe("a feed worked out", () => {
  const WORKING = "machine.birch_plywood_4.cut.working";

  it("between two thicknesses is told by the figure, with both rows and the rule", () => {
    const input = withFeeds([3, 16], [6, 4]);
    expect(checkJob(input)).toEqual([]);
    expect(sourceText(figure(input, WORKING))).toMatch(
      // Sixteen in 3 mm and four in 6 mm: with the square of the thickness, nine in 4 mm.
      /at the likely feed of 9 mm\/s, worked out: feed ~ thickness\^-2, through 3 mm \(16 mm\/s\) and 6 mm \(4 mm\/s\), from price-tables\/feeds\.csv, lines 3-4;/,
    );
  });

  it("is one with a row of that feed in every figure", () => {
    expect(values(withFeeds([3, 16], [6, 4]))).toEqual(values(withFeeds([4, 9])));
  });

  it("beyond the table is warned of once, by every command that times", () => {
    const input = withFeeds([5, 8]);
    expect(codes(checkJob(input))).toEqual(["feed-beyond-table"]);
    expect(codes(estimated(input).warnings)).toEqual(["feed-beyond-table"]);
    expect(compared(input).compared[0]!.choices[0]!.machineS).toBeGreaterThan(0);
    expect(codes(checkJob(withFeeds([6, 8])))).toEqual(["no-feed"]);
  });
});
