import { describe, expect, it } from "vitest";
import type { Estimate, EstimateInput } from "../../src/estimate-data.ts";
import { checkJob } from "../../src/estimate.ts";
import { costingCsv } from "../../src/exports/costing-csv.ts";
import { cutListCsv } from "../../src/exports/cut-list-csv.ts";
import { makersSheet } from "../../src/exports/makers-sheet.ts";
import { summary } from "../../src/exports/summary.ts";
import { estimated, SMALL, withTexts } from "../helpers/job.ts";

/** A job of three plates of 250 x 180 mm, of which a sheet of 600 x 400 mm takes four. */

const HEADER = "id,material,thickness,width,height,qty,price,note";

function job(copies: number, ...offcuts: readonly string[]): EstimateInput {
  return withTexts(SMALL, {
    "parts.csv": [
      "part,qty,material,thickness,shape,width,height",
      `plate,${copies},birch plywood,4,rectangle,250,180`,
    ],
    "job.yaml": "price: {markup_percent: 25, delivery: 1}",
    "hardware.csv": "item,qty,per,part",
    ...(offcuts.length === 0 ? {} : { "offcuts.csv": [HEADER, ...offcuts] }),
  });
}

function value({ figures }: Estimate, id: string): string | undefined {
  return figures.find((figure) => figure.id === id)?.value;
}

const SHELF = "shelf-1,Birch Plywood,4 mm,270,200,2,,left from the fair";

describe("offcuts of a job", () => {
  it("stand in for sheets that would be bought, free unless priced", () => {
    const bought = estimated(job(5));
    expect(value(bought, "sheet.birch_plywood_4.cost")).toBe("25");
    const one = estimated(job(5, SHELF));
    expect(value(one, "sheet.birch_plywood_4.cost")).toBe("12.5");
    expect(value(one, "sheet.birch_plywood_4.shelf-1.cost")).toBe("0");
    expect(value(one, "sheet.birch_plywood_4.ply-4.count")).toBe("1");
    expect(one.shopping.filter(({ kind }) => kind === "sheet")).toMatchObject([
      { item: "ply-4", quantity: "1" },
    ]);
    const priced = estimated(job(5, SHELF.replace(",2,,", ",2,3.00,")));
    expect(value(priced, "sheet.birch_plywood_4.cost")).toBe("15.5");
  });

  it("stay where they are when they cost more than they save, or are too few", () => {
    const dear = estimated(job(5, SHELF.replace(",2,,", ",2,13.00,")));
    expect(dear.stocks[0]?.used.map(({ sheet }) => sheet)).toEqual(["ply-4"]);
    const few = estimated(job(7, SHELF));
    expect(few.stocks[0]?.used).toMatchObject([{ sheet: "ply-4", count: 2, offcut: false }]);
    const gone = estimated(job(5, SHELF.replace(",2,,", ",0,,")));
    expect(value(gone, "sheet.birch_plywood_4.cost")).toBe("25");
  });

  it("are named to whom takes them from the shelf", () => {
    const one = estimated(job(5, SHELF));
    expect(summary(one)).toContain("1 x shelf-1");
    expect(cutListCsv(one)).toMatch(/-shelf-1,birch plywood 4 mm,plate,1,/);
    expect(makersSheet(one)).toContain(
      "[ ] 1 x offcut shelf-1 from the shelf: birch plywood 4 mm, 270 x 200 mm",
    );
    expect(costingCsv(one)).toContain("left from the fair");
  });

  it("are no larger than the bed takes, and no reason to refuse a part", () => {
    // The bed is 600 x 400 mm.
    const long = estimated(job(5, "long,birch plywood,4,1200,200,1,,"));
    expect(long.stocks[0]?.used.map(({ sheet }) => sheet)).toEqual(["ply-4"]);
    const tiny = job(1, "tiny,birch plywood,4,30,20,1,,");
    expect(checkJob(tiny).filter(({ severity }) => severity === "error")).toEqual([]);
  });
});
