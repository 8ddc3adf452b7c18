import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Estimate, EstimateInput } from "../../src/estimate-data.ts";
import { checkJob } from "../../src/estimate.ts";
import { summary } from "../../src/exports/summary.ts";
import { estimated, readWorked, sourceText, toolBoard } from "../worked/tool-board.ts";

/** What of the sheets a customer pays: derived by hand from two invented jobs. */

function partsOf(quantity: number, width: number, height: number): string {
  const head = "part,qty,material,thickness,shape,width,height";
  return `${head}\nplate,${quantity},MDF,6,rectangle,${width},${height}\n`;
}

const PARTS = partsOf(2, 200, 100);
const SHEETS =
  "id,material,thickness_mm,form,width_mm,height_mm,price,margin_mm,gap_mm,on_hand,valid_from,source";
const FEEDS = "mdf,laser,MDF,6,cut,8,10,12,1,0.2,2026-01-01,invented";

/** @param price lines below `price:`. @param sheet its sizes and price. */
function job(price: readonly string[], sheet = "600,400,12.00", parts = PARTS): EstimateInput {
  const changed = {
    "tables/sheets.csv": `${SHEETS}\nmdf,MDF,6,sheet,${sheet},10,2,,2026-01-01,invented`,
    "tables/feeds.csv": `${readWorked("tables/feeds.csv")}${FEEDS}\n`,
  };
  const { tables, ...rest } = toolBoard(changed);
  const yaml = ["pieces: 2", ...(price.length === 0 ? [] : ["price:", ...price])].join("\n");
  return { ...rest, tables, job: [sourceText("parts.csv", parts), sourceText("job.yaml", yaml)] };
}

function value(estimate: Estimate, id: string): number {
  return Number(estimate.figures.find((figure) => figure.id === id)?.value ?? Number.NaN);
}

function charged(estimate: Estimate): number {
  return value(estimate, "cost.materials");
}

/** What is wrong with it, and where. */
function codes(price: readonly string[]): readonly string[] {
  return checkJob(job(price)).map(({ code, column }) => `${code} ${column ?? ""}`);
}

const LESS = ["  charge_sheets: less what is left"];
const AREA = ["  charge_sheets: area of the parts", "  waste_percent: 15"];

describe("what of the sheets is charged", () => {
  it("is the whole sheet unless another rule is chosen", () => {
    const plain = estimated(job([]));
    expect(charged(plain)).toBe(12);
    expect(charged(estimated(job(["  charge_sheets: whole sheets"])))).toBe(12);
    expect(value(plain, "sheet.mdf_6.charged")).toBeNaN();
  });

  it("is the sheet less what is left, at its share of the sheet's price", () => {
    const estimate = estimated(job(LESS));
    const left = estimate.stocks[0]!.leftover!;
    // Four plates of 200 x 100 on 580 x 380: at least a rectangle of 580 x 170 is left.
    expect(left.widthMm * left.heightMm).toBeGreaterThan(580 * 170);
    const worth = (12 * left.widthMm * left.heightMm) / (600 * 400);
    expect(charged(estimate)).toBeCloseTo(12 - worth, 9);
    expect(charged(estimate)).toBeGreaterThan(0);
  });

  it("is the whole price where nothing is left that is worth keeping", () => {
    // 2 x 2 plates fill 406 x 206 less the gaps: 4 mm are left.
    const estimate = estimated(job(LESS, "426,226,5.00"));
    expect(estimate.stocks[0]!.leftover).toBeNull();
    expect(charged(estimate)).toBe(5);
  });

  it("is the area of the parts with the waste that the house reckons with", () => {
    // 4 x 0.02 m2, 15 % on top, at 12.00 for 0.24 m2: 4.60.
    const estimate = estimated(job(AREA));
    expect(charged(estimate)).toBeCloseTo(4.6, 9);
    expect(value(estimate, "sheet.mdf_6.per-m2")).toBe(50);
    // Spare copies are parts as well: 5 x 0.02.
    const spare = estimated(job([...AREA, "  spoilage_percent: 5"]));
    expect(charged(spare)).toBeCloseTo(5.75, 9);
  });

  it("counts a sheet that is sawn into panels whole, and what is left of a panel as part of it", () => {
    // 1230 x 830 on a bed of 700 x 500: 2 x 2 panels at a quarter of 40.00 each.
    const size = "1230,830,40.00";
    const area = estimated(job(AREA, size));
    expect(value(area, "sheet.mdf_6.panels-each")).toBe(4);
    expect(value(area, "sheet.mdf_6.bought-area")).toBeCloseTo(1.23 * 0.83, 12);
    const estimate = estimated(job(LESS, size));
    const left = estimate.stocks[0]!.leftover!;
    const [panel] = estimate.stocks[0]!.sheets;
    const share = (left.widthMm * left.heightMm) / (panel!.widthMm * panel!.heightMm);
    expect(value(estimate, "sheet.mdf_6.leftover.worth")).toBeCloseTo(10 * share, 9);
    expect(charged(estimate)).toBeCloseTo(40 - 10 * share, 9);
  });

  it("is never below 0, nor above what is bought where what is left is taken off", () => {
    const side = fc.integer({ min: 30, max: 300 });
    let left = 0;
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 12 }), side, side, (quantity, width, height) => {
        const estimate = estimated(job(LESS, undefined, partsOf(quantity, width, height)));
        const bought = value(estimate, "sheet.mdf_6.cost");
        expect(charged(estimate)).toBeGreaterThan(0);
        expect(charged(estimate)).toBeLessThanOrEqual(bought);
        if (charged(estimate) < bought) left += 1;
      }),
      { numRuns: 25, seed: 20261126 },
    );
    expect(left).toBeGreaterThan(10);
  });

  it("changes nothing of what is bought, and is told", () => {
    const texts = {
      "whole, as bought": [],
      "less what is left whole": LESS,
      "by area, with waste": AREA,
    };
    for (const [text, rule] of Object.entries(texts)) {
      const estimate = estimated(job(rule));
      expect(estimate.shopping.map(({ amount }) => amount)).toEqual(["12.00"]);
      expect(summary(estimate)).toContain(`  Sheets charged  ${text}`);
    }
    const told = estimated(job(LESS)).figures.find(({ id }) => id === "sheet.mdf_6.charged");
    expect(told?.origin).toMatchObject({
      because: "less what is left: job.yaml, line 3, price.charge_sheets",
    });
  });

  it("wants the waste where the parts' area is charged, and a rule that is one", () => {
    expect(codes(AREA.slice(0, 1))).toEqual(["missing-setting waste_percent"]);
    expect(codes(LESS)).toEqual([]);
    expect(codes(["  charge_sheets: half"])).toEqual(["not-a-choice price.charge_sheets"]);
  });
});
