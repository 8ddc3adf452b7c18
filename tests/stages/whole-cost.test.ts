import { describe, expect, it } from "vitest";
import type { Estimate, EstimateInput } from "../../src/estimate-data.ts";
import { sheetsText } from "../../src/exports/sheets-text.ts";
import { compared, estimated, nested, SMALL, withTexts } from "../helpers/job.ts";

/**
 * Four plates of 250 x 180 mm. A sheet of 600 x 400 mm, for 12.50, takes all, one of 300 x 400 mm two
 * of them (derived), for as much as said.
 */
function plates(small: string, offcuts: readonly string[] = []): EstimateInput {
  const sheets = SMALL.tables.find(({ name }) => name === "price-tables/sheets.csv")!.text;
  const row = `ply-4-half,birch plywood,4,sheet,300,400,${small},5,3,,2026-01-01,test`;
  return withTexts(SMALL, {
    "parts.csv": [
      "part,qty,material,thickness,shape,width,height",
      "plate,4,birch plywood,4,rectangle,250,180",
    ],
    "job.yaml": "price: {markup_percent: 25, delivery: 1}",
    "hardware.csv": "item,qty,per,part",
    "lengths.csv": "name,stock,length,qty",
    "offcuts.csv": ["id,material,thickness,width,height,qty", ...offcuts],
    "price-tables/sheets.csv": [...sheets.trim().split("\n"), row],
  });
}

function only(sheet: string, input: EstimateInput): EstimateInput {
  return withTexts(input, {
    "job.yaml": `price: {markup_percent: 25, delivery: 1}\nsheets: [${sheet}]`,
  });
}

function figure({ figures }: Estimate, id: string): number {
  return Number(figures.find((one) => one.id === id)?.value);
}

describe("sheets are chosen by what the whole job costs", () => {
  it("takes a dearer sheet that saves laying down a second one", () => {
    const input = plates("6.20");
    expect(estimated(input).stocks[0]?.sheet).toBe("ply-4");
    const [two, one] = ["ply-4-half", "ply-4"].map((id) => estimated(only(id, input)));
    expect(figure(one!, "sheet.birch_plywood_4.cost")).toBe(12.5);
    expect(figure(two!, "sheet.birch_plywood_4.cost")).toBe(12.4);
    expect(figure(one!, "cost.direct")).toBeLessThan(figure(two!, "cost.direct"));
  });

  it("and the cheapest sheets where laying down costs less than they save", () => {
    expect(estimated(plates("4.00")).stocks[0]?.sheet).toBe("ply-4-half");
  });

  it("the same for every answer", () => {
    const input = plates("6.20");
    expect(nested(input).stocks[0]?.sheet).toBe("ply-4");
    const [stock] = compared(input).compared;
    const chosen = stock!.choices.filter((choice) => choice.chosen);
    expect(chosen.map(({ used }) => used[0]?.sheet)).toEqual(["ply-4"]);
  });

  it("as each choice costs when the job names it", () => {
    const input = plates("6.20");
    const { choices } = compared(input).compared[0]!;
    expect(choices.length).toBe(2);
    for (const { used, jobCost } of choices) {
      const named = estimated(only(used[0]!.sheet, input));
      expect(Number(jobCost)).toBeCloseTo(figure(named, "cost.direct"), 6);
    }
  });

  it("and not by what of the sheets the customer is charged for", () => {
    const byArea = withTexts(plates("4.00"), {
      "job.yaml":
        "price: {markup_percent: 25, delivery: 1, charge_sheets: area of the parts, waste_percent: 0}",
    });
    expect(figure(estimated(byArea), "sheet.birch_plywood_4.charged")).toBeGreaterThan(0);
    expect(estimated(byArea).stocks[0]?.sheet).toBe("ply-4-half");
  });

  it("and what differs is said, with the offcuts that were not used", () => {
    const text = sheetsText(
      compared(
        plates("6.20", [
          "scrap,birch plywood,4,90,90,1",
          "gone,birch plywood,4,300,300,0",
          "board,birch plywood,4,5000,5000,1",
        ]),
      ),
    ).replaceAll(/\s+/g, " ");
    expect(text).toContain(
      "The sheets marked cost 0.10 more than 2 x ply-4-half, and the whole job",
    );
    expect(text).toContain(
      "Not used of the shelf: scrap, too small for every part; gone, none of it there; board, too large for the machine's bed.",
    );
  });
});
