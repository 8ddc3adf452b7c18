import { mkdir, readFile, writeFile } from "node:fs/promises";
import { beforeAll, describe, expect, it } from "vitest";
import { writeCsv } from "../src/csv.ts";
import type { Estimate } from "../src/estimate-data.ts";
import { quoteCsv } from "../src/exports/quote-csv.ts";
import { summary } from "../src/exports/summary.ts";
import { DEMOS, demoInput } from "./helpers/demo.ts";
import { estimated } from "./helpers/job.ts";

/**
 * The figures of the demos as they were when somebody last looked at them, at a fixed seed and one pass.
 * A change that is meant: look at the difference, then `GOLDEN_UPDATE=1 npx vitest run
 * tests/golden.test.ts` writes the files anew; commit them with the change that moved them.
 */
const UPDATE = process.env["GOLDEN_UPDATE"] === "1";

/** How many sheets of which size, and how full. */
function nestCsv({ stocks }: Estimate): string {
  const rows = stocks.map((stock) => [
    stock.material,
    String(stock.thicknessMm),
    stock.sheet,
    String(stock.sheets.length),
    stock.utilisation.toFixed(4),
    stock.sheetCost,
    stock.costBound,
    stock.sheets.map(({ placements }) => placements.length).join(" "),
  ]);
  const header = [
    "material",
    "thickness",
    "sheet",
    "sheets",
    "utilisation",
    "cost",
    "bound",
    "parts",
  ];
  return writeCsv(header, rows);
}

describe.each(DEMOS)("the demo %s stands as it was", (demo) => {
  const folder = `tests/golden/${demo}`;
  let estimate: Estimate;
  beforeAll(async () => {
    estimate = estimated(await demoInput(demo));
  }, 60_000);

  it.each([
    ["quote.csv", quoteCsv],
    ["nest.csv", nestCsv],
    ["summary.txt", summary],
  ] as const)("%s", async (name, write) => {
    const text = write(estimate);
    if (UPDATE) {
      await mkdir(folder, { recursive: true });
      await writeFile(`${folder}/${name}`, text);
    }
    expect(text).toBe(await readFile(`${folder}/${name}`, "utf8"));
  });
});
