import { describe, expect, it } from "vitest";
import type { EstimateInput } from "../../src/estimate-data.ts";
import { checkJob } from "../../src/estimate.ts";
import { nestText } from "../../src/exports/nest-text.ts";
import { estimated, nested, SMALL, withTexts } from "../helpers/job.ts";

/**
 * Plates of 250 x 180 mm for a bed of 600 x 400 mm, sold as sheets of 1220 x 1220 mm. Worked by hand:
 * 2 x 600 and 3 x 400 mm, with kerfs of 4 mm, come out of 1220 mm, so a sheet has six panels; each
 * takes four plates.
 */
function job(copies: number, ...sizes: readonly string[]): EstimateInput {
  const header = "id,material,thickness_mm,form,width_mm,height_mm,price,margin_mm,gap_mm,on_hand";
  const large = "large,birch plywood,4,sheet,1220,1220,24.00,5,3,";
  return withTexts(SMALL, {
    "parts.csv": [
      "part,qty,material,thickness,shape,width,height",
      `plate,${copies},birch plywood,4,rectangle,250,180`,
    ],
    "job.yaml": "price: {markup_percent: 25, delivery: 1}",
    "hardware.csv": "item,qty,per,part",
    "price-tables/sheets.csv": [
      `${header},valid_from,source`,
      ...[large, ...sizes].map((row) => `${row},2026-01-01,test`),
    ],
  });
}

describe("sheets larger than the bed", () => {
  it("are bought whole and worked in panels, and every answer says so", () => {
    const { figures, shopping, stocks } = estimated(job(25));
    const value = (what: string) =>
      figures.find(({ id }) => id === `sheet.birch_plywood_4.${what}`)?.value;
    expect([value("panels"), value("panels-each"), value("count"), value("cost")]).toEqual([
      "7",
      "6",
      "2",
      "48",
    ]);
    expect(shopping[0]).toMatchObject({
      item: "large",
      quantity: "2",
      amount: "48.00",
      need: expect.stringContaining("have each sheet sawn into 2 x 3 of 600 x 400 mm"),
    });
    expect(stocks[0]!.sheets).toHaveLength(7);
    const text = nestText(nested(job(25)));
    expect(text).toContain("2 x large (7 of 12 panels 600 x 400 mm)");
    expect(text).toMatch(/^ {2}panel 7 {2}600 x 400 mm/m);
  });

  it("are warned of, for sawing costs something", () => {
    const [warning, ...more] = checkJob(job(4));
    expect(more).toEqual([]);
    expect(warning).toMatchObject({ code: "sheet-sawn", severity: "warning", column: "material" });
    expect(warning!.expected).toContain("large into 2 x 3 of 600 x 400 mm");
  });

  it("stay whole where the stock has a size for the bed", () => {
    const input = job(25, "small,birch plywood,4,sheet,600,400,9.00,5,3,");
    expect(checkJob(input)).toEqual([]);
    expect(estimated(input).stocks[0]!.used).toMatchObject([{ sheet: "small", bought: 7 }]);
  });

  it("are refused for a part that no panel takes", () => {
    const input = withTexts(job(1), {
      "parts.csv": [
        "part,qty,material,thickness,shape,width,height",
        "door,1,birch plywood,4,rectangle,700,380",
      ],
    });
    const large = checkJob(input).find(({ code }) => code === "does-not-fit");
    expect(large?.expected).toContain(
      "larger than 600 x 400 mm less the margin in every allowed turn; the bed of own takes 600 x 400 mm",
    );
  });
});
