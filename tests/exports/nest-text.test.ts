import { describe, expect, it } from "vitest";
import { sheetsText } from "../../src/exports/nest-text.ts";
import { nested, SMALL, withTexts } from "../helpers/job.ts";

/** Plates of 250 x 180 mm: a sheet of 600 x 400 mm takes four, for 12.50 (derived). */
function rows(copies: number, offcuts: readonly string[]): readonly (readonly string[])[] {
  const text = sheetsText(
    nested(
      withTexts(SMALL, {
        "parts.csv": [
          "part,qty,material,thickness,shape,width,height",
          `plate,${copies},birch plywood,4,rectangle,250,180`,
        ],
        "job.yaml": "price: {markup_percent: 25, delivery: 1}",
        "hardware.csv": "item,qty,per,part",
        "offcuts.csv": ["id,material,thickness,width,height,qty", ...offcuts],
      }),
    ),
  );
  return text.split("\n").map((line) => line.trim().split(/\s{2,}/));
}

describe("the choice of sheets in words", () => {
  it("names a mix by its sizes, offcuts as such, and then each size for itself", () => {
    const said = rows(5, ["shelf-1,birch plywood,4,270,200,1"]);
    expect(said[2]?.slice(0, 4)).toEqual([">", "1 x ply-4", "600 x 400 mm", "2"]);
    expect(said[2]?.at(-1)).toBe("12.50");
    expect(said[3]).toEqual(["1 x shelf-1", "270 x 200 mm, offcut"]);
    expect(said[4]?.slice(0, 3)).toEqual(["ply-4", "600 x 400 mm", "2"]);
    expect(said[4]?.at(-1)).toBe("25.00");
  });

  it("marks the size alone where no mix is of use", () => {
    const said = rows(4, []);
    expect(said.filter(([mark]) => mark === ">")).toHaveLength(1);
    expect(said[2]?.slice(0, 2)).toEqual([">", "ply-4"]);
  });
});
