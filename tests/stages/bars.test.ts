import { describe, expect, it } from "vitest";
import { cutListCsv } from "../../src/exports/cut-list-csv.ts";
import { summary } from "../../src/exports/summary.ts";
import { checkJob } from "../../src/estimate.ts";
import type { Estimate, EstimateInput } from "../../src/estimate-data.ts";
import { rowsOf } from "../helpers/rows.ts";
import { estimated, readWorked, run, sourceText, toolBoard } from "../worked/tool-board.ts";

/** Bars of several lengths through the whole estimate; all sums are worked out by hand. */

const HEAD =
  "id,description,length_mm,saw_kerf_mm,end_trim_mm,price,on_hand,keep_from_mm,valid_from,source";
const DATED = "2026-01-01,invented for the test";

function table(rows: readonly string[]): string {
  return [HEAD, ...rows.map((row) => `${row},${DATED}`)].join("\n");
}

/** Two boards: a rail of 480 and `stops` stops of 230 for each. */
function board(rows: readonly string[], stops = 2, shelf: readonly string[] = []): EstimateInput {
  const lengths = `name,stock,length,qty,note\nrail,oak-strip,480 mm,1,\nstop,oak-strip,23 cm,${stops},`;
  const input = toolBoard({ "job/lengths.csv": lengths, "tables/stock-lengths.csv": table(rows) });
  if (shelf.length === 0) return input;
  return { ...input, job: [...input.job, sourceText("tables/stock-lengths.csv", table(shelf))] };
}

function figures({ figures: all }: Estimate): Readonly<Record<string, number>> {
  return Object.fromEntries(
    all.flatMap(({ id, value }) => (id.startsWith("bars.") ? [[id, Number(value)]] : [])),
  );
}

function barsBought({ shopping }: Estimate): readonly string[] {
  return shopping
    .filter(({ kind }) => kind === "stock length")
    .map(({ quantity, unit, amount }) => `${quantity} ${unit} ${amount}`);
}

const SOLD = ["oak-strip,Oak strip,1000,3,10,4.20,,200", "oak-strip,Oak strip,500,3,10,2.00,,200"];

const SAWN = [
  { leftMm: 24, kept: false },
  { leftMm: 524, kept: true },
];

describe("bars of several lengths", () => {
  it("are mixed where that costs less: a figure for each length, and their sum", () => {
    // 2 x 480 + 4 x 230: each 480 and each two stops (463 of 490) out of 500 are 8.00, two of 1000 8.40.
    const estimate = estimated(board(SOLD));
    expect(figures(estimate)).toMatchObject({
      "bars.oak-strip.cost": 8,
      "bars.oak-strip.count": 4,
    });
    // 480 + 230 + 230 with two cuts (946 of 990), and 480; one stop more than two do.
    const mixed = estimated(board([SOLD[0]!, "oak-strip,Oak strip,500,3,10,2.30,,200"], 1));
    expect(figures(mixed)).toEqual({
      "bars.oak-strip.1000.count": 1,
      "bars.oak-strip.1000.price": 4.2,
      "bars.oak-strip.1000.cost": 4.2,
      "bars.oak-strip.500.count": 1,
      "bars.oak-strip.500.price": 2.3,
      "bars.oak-strip.500.cost": 2.3,
      "bars.oak-strip.cost": 6.5,
    });
    expect(barsBought(mixed)).toEqual(["1 bar of 1000 mm 4.20", "1 bar of 500 mm 2.30"]);
    expect(summary(mixed)).toContain("2 bars");
    expect(summary(mixed)).toContain("proved cheapest");
  });

  it("name what is left of each, and what to keep", () => {
    // 990 - 480 - 480 - 2 x 3 is 24, 990 - 230 - 230 - 2 x 3 is 524: better than twice 274.
    const estimate = estimated(board([SOLD[0]!], 1));
    expect(estimate.bars).toMatchObject([{ cost: "8.4", costBound: "8.4", bars: SAWN }]);
    const notes = rowsOf(cutListCsv(estimate))
      .filter(({ operations }) => operations === "saw")
      .map(({ part, note }) => `${part}: ${note}`);
    expect(notes).toEqual(["rail: 24 mm left", "stop: 524 mm left, keep it"]);
    const longer = estimated(board(["oak-strip,Oak strip,1000,3,10,4.20,,525"], 1));
    expect(cutListCsv(longer)).toContain("524 mm left");
    expect(cutListCsv(longer)).not.toContain("keep it");
  });

  it("come from the shelf first, beside those sold, and are not bought", () => {
    const estimate = estimated(board([SOLD[0]!], 1, ["oak-strip,Oak strip,740,3,10,0,1,200"]));
    expect(figures(estimate)).toMatchObject({
      "bars.oak-strip.1000.count": 1,
      "bars.oak-strip.740.count": 1,
      "bars.oak-strip.cost": 4.2,
    });
    expect(barsBought(estimate)).toEqual(["1 bar of 1000 mm 4.20"]);
    expect(cutListCsv(estimate)).toContain("oak-strip 740 mm from the shelf");
    expect(estimate.bars[0]?.bars.map(({ fromShelf }) => fromShelf)).toEqual([false, true]);
  });

  it("may not be enough: check and quote name the row, what is too many and what there is", () => {
    const input = board(["oak-strip,Oak strip,1000,3,10,4.20,1,"], 1);
    const { value, problems } = run(input);
    expect(value).toBeNull();
    for (const found of [problems, checkJob(input)])
      expect(found.filter(({ severity }) => severity === "error")).toMatchObject([
        {
          code: "not-enough-bars",
          file: "lengths.csv",
          column: "qty",
          found: "1 piece of rail too many",
          expected: "what comes out of the bars of oak-strip on hand: 1 of 1000 mm",
        },
      ]);
    expect(readWorked("tables/stock-lengths.csv")).not.toContain("on_hand");
  });
});
