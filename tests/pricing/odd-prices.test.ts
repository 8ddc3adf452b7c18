import { describe, expect, it } from "vitest";
import type { EstimateInput } from "../../src/estimate-data.ts";
import { estimate } from "../../src/estimate.ts";
import { sentence } from "../../src/problem.ts";
import { DEMOS, demoInput } from "../helpers/demo.ts";
import { drain } from "../helpers/drain.ts";
import { estimated } from "../helpers/job.ts";

/** Prices far from all others of their table; what is far is common practice, no source. */

const INPUT = await demoInput("ribbed-shade");

/** The demo with some texts of its tables changed. */
function changed(table: string, from: RegExp, to: string): EstimateInput {
  const tables = INPUT.tables.map((one) =>
    one.name.endsWith(`/${table}`) ? { ...one, text: one.text.replace(from, to) } : one,
  );
  return { ...INPUT, tables };
}

function said(input: EstimateInput): readonly string[] {
  const { problems } = drain(estimate(input));
  return problems.filter(({ code }) => code === "price-out-of-line").map(sentence);
}

describe("a price far out of line", () => {
  it.each(DEMOS)("is not seen in the tables as they come, for %s", async (demo) => {
    expect(said(await demoInput(demo))).toEqual([]);
  });

  it("is warned of where a sheet of the job costs what it can not", () => {
    const row = /^(birch-plywood-4-600x400,.*?,sheet,600,400),[\d.]+/m;
    const [told = "", ...more] = said(changed("sheets.csv", row, "$1,1000000000"));
    expect(more).toEqual([]);
    expect(told).toMatch(
      /^price-tables\/sheets\.csv, line \d+, price: read "birch-plywood-4-600x400", expected a price near those of other sheets by volume; it is \d+ times more than the middle of them\. Correct the price or the size, or leave them if they are meant\.$/,
    );
  });

  it.each(["0.05", "90000"])("is warned of where a can costs %s, and stops nothing", (price) => {
    const input = changed("paints.csv", /^(clear-lacquer,.*),[\d.]+,(\d{4}-)/m, `$1,${price},$2`);
    expect(said(input)).toEqual([
      expect.stringMatching(/^price-tables\/paints\.csv, .* of other paints/),
    ]);
    expect(estimated(input).warnings.some(({ code }) => code === "price-out-of-line")).toBe(true);
  });
});
