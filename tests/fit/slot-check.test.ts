import { describe, expect, it } from "vitest";
import { partGeometry } from "../../src/drawing/assemble.ts";
import { slotFits } from "../../src/fit/slot-check.ts";
import type { SlottedPart, SlottingSheet } from "../../src/fit/slot-check.ts";
import { thicknessOf } from "../../src/fit/thickness.ts";
import { polylinePath } from "../../src/geometry/path.ts";
import type { Point } from "../../src/geometry/types.ts";

const ACRYLIC = { lowMm: 0, highMm: 0.1 };
const PLYWOOD = { lowMm: -0.1, highMm: 0 };
const CAST = { overMm: 0.4, overPerMm: 0.1, underMm: 0.4, underPerMm: 0.1 };

function acrylic(thicknessMm: number, measuredMm: number | null): SlottingSheet {
  const thickness = thicknessOf(thicknessMm, measuredMm, CAST);
  return { material: "acrylic cast", thicknessMm, thickness, clearance: ACRYLIC };
}

/** A plate with a notch of each width, 20 mm deep, from above. */
function plate(widths: readonly number[], kerfMm: number | null = 0.15): SlottedPart {
  const notches = widths.flatMap((width, index): Point[] => {
    const left = 20 + 30 * index;
    return [
      { x: left, y: 40 },
      { x: left, y: 20 },
      { x: left + width, y: 20 },
      { x: left + width, y: 40 },
    ];
  });
  const right = 30 + 30 * widths.length;
  const outline = polylinePath(
    [{ x: 0, y: 40 }, ...notches, { x: right, y: 40 }, { x: right, y: 0 }, { x: 0, y: 0 }],
    true,
  );
  const place = { file: "plate.svg", line: 3, column: "path" };
  const geometry = partGeometry({
    part: "plate",
    place,
    outline,
    holes: [],
    scores: [],
    engravings: [],
  });
  return { part: "plate", geometry, clearance: ACRYLIC, kerfsMm: [kerfMm] };
}

describe("slots against sheets", () => {
  it("are put together by width, each with its fit and the width to draw", () => {
    const fits = slotFits([plate([2.9, 2.6, 2.9, 3.3])], [acrylic(3, 3)]);
    expect(fits).toMatchObject([
      { widthMm: 2.6, fit: "no go", at: [{}] },
      { widthMm: 2.9, fit: "snug", at: [{}, {}] },
      { widthMm: 3.3, fit: "loose", at: [{}] },
    ]);
    for (const { drawMm } of fits) expect(drawMm).toBeCloseTo(2.9, 9);
  });

  it("are taken for the sheet whose thickness comes nearest", () => {
    const fits = slotFits([plate([2.9, 4.8, 9])], [acrylic(3, null), acrylic(5, null)]);
    expect(fits.map(({ sheet }) => sheet.thicknessMm)).toEqual([3, 5]);
  });

  it("say how far the name alone leaves it open, and no fit without a kerf", () => {
    const [named] = slotFits([plate([2.9])], [acrylic(3, null)]);
    expect(named).toMatchObject({ fit: "snug", range: ["loose", "no go"] });
    const [unknown] = slotFits([plate([2.9], null)], [acrylic(3, 3)]);
    expect(unknown).toMatchObject({ fit: null, clearanceMm: null, drawMm: null, widthMm: 2.9 });
  });

  it("go by the roomier of two materials", () => {
    const wood = { ...plate([2.8]), clearance: PLYWOOD };
    // 2.8 + 0.15 is 0.05 less than the sheet: snug in wood, but the acrylic may crack.
    expect(slotFits([wood], [acrylic(3, 3)])).toMatchObject([{ fit: "tight" }]);
    const plywood = { ...acrylic(3, 3), clearance: PLYWOOD };
    expect(slotFits([wood], [plywood])).toMatchObject([{ fit: "snug" }]);
  });

  it("are none where there is no sheet", () => {
    expect(slotFits([plate([2.9])], [])).toEqual([]);
  });
});
