import { createRequire } from "node:module";
import type { DxfParser } from "dxf-parser";
import { describe, expect, it } from "vitest";
import type { Estimate, EstimateInput } from "../../src/estimate-data.ts";
import { checkJob } from "../../src/estimate.ts";
import { costingCsv } from "../../src/exports/costing-csv.ts";
import { cutListCsv } from "../../src/exports/cut-list-csv.ts";
import { layoutDxf } from "../../src/exports/layout-dxf.ts";
import { layoutSvg } from "../../src/exports/layout-svg.ts";
import { makersSheet } from "../../src/exports/makers-sheet.ts";
import { summary } from "../../src/exports/summary.ts";
import { estimated, SMALL, withTexts } from "../helpers/job.ts";

const Parser: typeof DxfParser = createRequire(import.meta.url)("dxf-parser");

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

/** An L of 540 x 400 mm less its upper right quarter, with a round hole at the end of its foot. */
const DRAWING = [
  '<svg xmlns="http://www.w3.org/2000/svg" width="700mm" height="500mm" viewBox="0 0 700 500">',
  '<g id="shelf"><path d="M 100 50 H 370 V 250 H 640 V 450 H 100 Z"/><circle cx="600" cy="350" r="30"/></g>',
  "</svg>",
].join("\n");

function drawn(copies: number): EstimateInput {
  const offcuts = "id,material,thickness,drawing\nshelf-2,birch plywood,4,shelf.svg#shelf";
  return withTexts(job(copies), { "offcuts.csv": offcuts.split("\n"), "shelf.svg": [DRAWING] });
}

describe("an offcut with a drawing", () => {
  it("takes what its outline has room for", () => {
    // 250 x 180 mm each, one above the other in the upright.
    const two = estimated(drawn(2));
    expect(two.stocks[0]?.used.map(({ sheet }) => sheet)).toEqual(["shelf-2"]);
    expect(value(two, "sheet.birch_plywood_4.cost")).toBe("0");
    const [sheet] = two.stocks[0]!.sheets;
    expect(sheet).toMatchObject({ widthMm: 540, heightMm: 400 });
    // The area of what there is: 540 x 400 less a quarter of that and the circle (flattened).
    const area = 540 * 400 * 0.75 - Math.PI * 900;
    expect(two.stocks[0]!.utilisation).toBeCloseTo((2 * 250 * 180) / area, 4);
  });

  it("is drawn as it is on its layout", () => {
    const { stocks, parts } = estimated(drawn(2));
    const geometry = new Map(parts.map((part) => [part.name, part.geometry]));
    const svg = layoutSvg(stocks[0]!, 0, geometry);
    expect(svg).toContain("M0 0 L0 400 L540 400 L540 200 L270 200 L270 0 Z");
    const dxf = new Parser().parseSync(layoutDxf(stocks[0]!, 0, geometry));
    const entities = dxf?.entities.filter(({ layer }) => layer === "SHEET") ?? [];
    expect(entities).toHaveLength(2);
  });

  it("needs one closed outline, told at its drawing", () => {
    const page =
      '<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="300mm" viewBox="0 0 400 300">';
    const said = checkJob(
      withTexts(job(2), {
        "offcuts.csv": [
          "id,material,thickness,drawing",
          "corner,birch plywood,4,corner.svg",
          "both,birch plywood,4,both.svg",
        ],
        "corner.svg": [page, '<path d="M 360 0 H 390 V 30"/>', "</svg>"],
        "both.svg": [
          page,
          '<rect x="0" y="0" width="150" height="300"/>',
          '<rect x="200" y="0" width="100" height="200"/>',
          "</svg>",
        ],
      }),
    ).map(({ code, file, line }) => ({ code, file, line }));
    expect(said).toContainEqual({ code: "contour-open", file: "corner.svg", line: 2 });
    expect(said).toContainEqual({ code: "outline-several", file: "both.svg", line: 3 });
  });

  it("may be the layout of what was cut out of it, without what was inside of those parts", () => {
    const plate =
      '<rect x="10" y="10" width="300" height="200"/><circle cx="100" cy="100" r="20"/>';
    const before = `<svg xmlns="http://www.w3.org/2000/svg" width="600mm" height="400mm" viewBox="0 0 600 400"><rect width="600" height="400"/>${plate}</svg>`;
    const input = withTexts(job(1), {
      "offcuts.csv": ["id,material,thickness,drawing", "before,birch plywood,4,before.svg"],
      "before.svg": [before],
    });
    expect(checkJob(input).filter(({ severity }) => severity === "error")).toEqual([]);
    const { stocks } = estimated(input);
    expect(stocks[0]?.used.map(({ sheet }) => sheet)).toEqual(["before"]);
    expect(stocks[0]?.sheets[0]?.outline?.holes).toHaveLength(1);
  });
});
