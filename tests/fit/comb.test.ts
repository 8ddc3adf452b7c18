import { describe, expect, it } from "vitest";
import { combFor } from "../../src/fit/comb.ts";
import { fitOf } from "../../src/fit/fit.ts";
import { slotsOf } from "../../src/fit/slots.ts";
import { firstCrossing } from "../../src/geometry/crossing.ts";
import { flattenPath } from "../../src/geometry/flatten.ts";
import { boundsOf } from "../../src/geometry/ring.ts";
import { pathBounds } from "../../src/geometry/path.ts";

const ACRYLIC = { lowMm: 0, highMm: 0.1 };
const measured = (mm: number) => ({ lowMm: mm, likelyMm: mm, highMm: mm, measured: true });

describe("a comb", () => {
  const comb = combFor(measured(2.93), 0.15, ACRYLIC);

  it("has slots from tight to loose in steps of 0.05 mm round the thickness less the kerf", () => {
    expect(comb.slotsMm).toEqual([2.7, 2.75, 2.8, 2.85, 2.9, 2.95, 3]);
    const fits = comb.slotsMm.map((slot) => fitOf(slot + 0.15 - 2.93, ACRYLIC));
    expect(fits).toEqual(["tight", "tight", "snug", "snug", "loose", "loose", "loose"]);
  });

  it("has just those slots by the finder of slots, and an outline that crosses nothing", () => {
    const found = slotsOf([comb.outline], { lowMm: 2, highMm: 4 });
    const widths = found.map(({ widthMm }) => Number(widthMm.toFixed(6)));
    expect(widths.toSorted((a, b) => a - b)).toEqual(comb.slotsMm);
    expect(found.every(({ open }) => open)).toBe(true);
    expect(firstCrossing([flattenPath(comb.outline, 0.01)])).toBeNull();
  });

  it("keeps its figures apart, on the material below the slots", () => {
    const boxes = comb.figures.map(pathBounds);
    const slots = slotsOf([comb.outline], { lowMm: 2, highMm: 4 });
    const floor = Math.min(...slots.map(({ at, lengthMm }) => at.y - lengthMm / 2));
    const all = boundsOf(
      boxes.flatMap(({ minX, maxX, minY, maxY }) => [
        { x: minX, y: minY },
        { x: maxX, y: maxY },
      ]),
    );
    expect(all.minX).toBeGreaterThan(1);
    expect(all.maxX).toBeLessThan(comb.widthMm - 1);
    expect(all.minY).toBeGreaterThan(1);
    expect(all.maxY).toBeLessThan(floor - 1);
    for (const [index, slot] of slots.toSorted((a, b) => a.at.x - b.at.x).entries()) {
      const own = boxes.filter(({ minX, maxX }) => Math.abs((minX + maxX) / 2 - slot.at.x) < 6);
      expect(own.length, `slot ${index}`).toBeGreaterThanOrEqual(2);
    }
  });

  it("covers all that a sheet known by its name may be, in no more than 24 slots", () => {
    // Cast acrylic sold as 3 mm: 2.3 to 3.7; as 20 mm: 17.6 to 22.4 (ISO 7823-1).
    for (const [low, name, high] of [
      [2.3, 3, 3.7],
      [17.6, 20, 22.4],
    ] as const) {
      const { slotsMm } = combFor(
        { lowMm: low, likelyMm: name, highMm: high, measured: false },
        0.15,
        ACRYLIC,
      );
      expect(slotsMm.length).toBeLessThanOrEqual(24);
      expect(fitOf((slotsMm[0] ?? 9) + 0.15 - low, ACRYLIC)).not.toBe("loose");
      expect(fitOf((slotsMm.at(-1) ?? 0) + 0.15 - high, ACRYLIC)).toBe("loose");
    }
  });

  it("of card thinner than the kerf still has slots", () => {
    const { slotsMm } = combFor(measured(0.2), 0.15, { lowMm: -0.15, highMm: -0.05 });
    expect(slotsMm.every((slot) => slot >= 0.05)).toBe(true);
  });
});
