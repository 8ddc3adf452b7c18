import { describe, expect, it } from "vitest";
import { nestText } from "../../src/exports/nest-text.ts";
import type { NestReport } from "../../src/estimate-data.ts";
import { nested, SMALL, withTexts } from "../helpers/job.ts";

/** Plates of 250 x 180 mm: a sheet of 600 x 400 mm takes four, for 12.50 (derived). */
function plates(copies: number, offcuts: readonly string[]): NestReport {
  return nested(
    withTexts(SMALL, {
      "parts.csv": [
        "part,qty,material,thickness,shape,width,height",
        `plate,${copies},birch plywood,4,rectangle,250,180`,
      ],
      "job.yaml": "price: {markup_percent: 25, delivery: 1}",
      "hardware.csv": "item,qty,per,part",
      "offcuts.csv": ["id,material,thickness,width,height,qty", ...offcuts],
    }),
  );
}

describe("what lies where in words", () => {
  it("names what is left in one piece, and of which sheet; nothing where that is too narrow", () => {
    // Margin 5, gap 3: beside one that stands upright 600 - 10 - 180 - 3 are left, over the height.
    expect(nestText(plates(1, []))).toContain(
      "\n  left in one piece: 407 x 390 mm, 66.1 % of sheet 1\n",
    );
    expect(nestText(plates(4, []))).toContain(
      "\n  left in one piece: 84 x 390 mm, 13.7 % of sheet 1\n",
    );
    const shelf = plates(5, ["shelf-1,birch plywood,4,270,200,1"]);
    expect(nestText(shelf)).toContain(" % of sheet 1\n");
    expect(nestText(plates(1, ["shelf-1,birch plywood,4,270,200,1"]))).not.toContain("left in one");
  });
});
