import { mkdir, readFile, writeFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { writeCsv } from "../src/csv.ts";
import type { Estimate } from "../src/estimate-data.ts";
import { quoteCsv } from "../src/exports/quote-csv.ts";
import { summary } from "../src/exports/summary.ts";
import { demoInput } from "./helpers/demo.ts";
import { estimated } from "./helpers/job.ts";

/**
 * The demo's figures as they were when somebody last looked at them, at a fixed seed and one pass.
 * A change that is meant: look at the difference, then `GOLDEN_UPDATE=1 npx vitest run
 * tests/golden.test.ts` writes the files anew; commit them with the change that moved them.
 */
const UPDATE = process.env["GOLDEN_UPDATE"] === "1";
const FOLDER = "tests/golden/marsh-birds";

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

describe("the demo stands as it was", async () => {
  const estimate = estimated(await demoInput());
  const files = [
    ["quote.csv", quoteCsv(estimate)],
    ["nest.csv", nestCsv(estimate)],
    ["summary.txt", summary(estimate)],
  ] as const;

  it.each(files)("%s", async (name, text) => {
    if (UPDATE) {
      await mkdir(FOLDER, { recursive: true });
      await writeFile(`${FOLDER}/${name}`, text);
    }
    expect(text).toBe(await readFile(`${FOLDER}/${name}`, "utf8"));
  });
});
