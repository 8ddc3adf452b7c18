import { describe, expect, it } from "vitest";
import { fitOf, roomier, widthToDraw } from "../../src/fit/fit.ts";

const PLYWOOD = { lowMm: -0.1, highMm: 0 };
const CARD = { lowMm: -0.15, highMm: -0.05 };
const ACRYLIC = { lowMm: 0, highMm: 0.1 };

describe("a fit", () => {
  it("is what makers found in 6 mm plywood", () => {
    // Makerspace project log: 5.5 would not start, 5.75 by hammer, 5.8 firm, 6.0 loose. The kerf is
    // the mean of a 60-75 W class, 0.124 mm (university fab course, class data).
    const fits = [5.5, 5.75, 5.8, 6].map((drawn) => fitOf(drawn + 0.124 - 6, PLYWOOD));
    expect(fits).toEqual(["no go", "tight", "snug", "loose"]);
  });

  it("is what a student found best in 3 mm board", () => {
    // Fab-lab student log: 2.75 drawn, kerf 0.15.
    expect(fitOf(2.75 + 0.15 - 3, CARD)).toBe("snug");
  });

  it("counts a slot on the very limit as within", () => {
    expect(fitOf(2.9 + 0.2 - 3, ACRYLIC)).toBe("snug");
    expect(fitOf(0, ACRYLIC)).toBe("snug");
    // What a mallet overcomes: common practice, no source, but that it lies within the trial above.
    expect(fitOf(-0.1, ACRYLIC)).toBe("tight");
    expect(fitOf(-0.102, ACRYLIC)).toBe("no go");
    expect(fitOf(0.101, ACRYLIC)).toBe("loose");
  });

  it("goes as the roomier of two materials", () => {
    expect(roomier(PLYWOOD, ACRYLIC)).toEqual(ACRYLIC);
    expect(roomier(CARD, PLYWOOD)).toEqual(PLYWOOD);
  });

  it("of a width to draw is snug, in the middle", () => {
    for (const clearance of [PLYWOOD, CARD, ACRYLIC])
      for (const kerf of [0, 0.15, 0.25]) {
        const slot = widthToDraw(3.1, kerf, clearance) + kerf;
        expect(fitOf(slot - 3.1, clearance)).toBe("snug");
      }
    expect(widthToDraw(3, 0.15, ACRYLIC)).toBeCloseTo(2.9, 12);
  });
});
