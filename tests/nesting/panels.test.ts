import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Amount } from "../../src/money.ts";
import { judge } from "../../src/nesting/check.ts";
import { box, nest, piece, ring, sheet } from "./pieces.ts";

const tile = piece("tile", box(100, 100), { copies: 5 });
const quarters = sheet(100, 100, { id: "large", panels: 4, price: new Amount(12) });

describe("panels of a bought sheet", () => {
  it("cost as many sheets as they are sawn from", () => {
    const costs = [1, 4, 5, 8, 9].map((copies) => {
      const { best, costBound } = nest([{ ...tile, copies }], [quarters]);
      expect(costBound.toString()).toBe(best!.sheetCost.toString());
      return best!.sheetCost.toString();
    });
    expect(costs).toEqual(["12", "12", "24", "24", "36"]);
  });

  it("are no more than come out of the sheets on hand", () => {
    const { best, bySize } = nest([tile], [{ ...quarters, onHand: 1 }]);
    expect(best).toBeNull();
    expect(bySize[0]!.sheets).toHaveLength(4);
    const more = { ...bySize[0]!, sheets: [...bySize[0]!.sheets, bySize[0]!.sheets[0]!] };
    const faults = judge([tile], [{ ...quarters, onHand: 1 }], more.sheets, []);
    expect(faults.map(({ kind }) => kind)).toContain("sheet");
  });

  it("stand beside others for what is bought, never below the bound", () => {
    let sawn = 0;
    const row = fc.record({
      w: fc.integer({ min: 10, max: 60 }),
      h: fc.integer({ min: 10, max: 60 }),
      copies: fc.integer({ min: 1, max: 7 }),
      cut: fc.boolean(),
    });
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 3 }), fc.nat(3), (rows, gapMm) => {
        const pieces = rows.map(({ w, h, copies, cut }, i) =>
          piece(`p${i}`, cut ? ring([0, 0], [w, 0], [0, h]) : box(w, h), { copies }),
        );
        const choices = [
          sheet(80, 70, { id: "sawn", gapMm, panels: 6, price: new Amount("4.40") }),
          sheet(90, 90, { gapMm, price: new Amount("1.60") }),
        ];
        const { best, bySize, mix, costBound } = nest(pieces, choices, { steps: 2 });
        for (const one of [...bySize, ...(mix === null ? [] : [mix])]) {
          const count = (id: string): number => one.sheets.filter((s) => s.sheet === id).length;
          const paid = new Amount("4.40")
            .times(Math.ceil(count("sawn") / 6))
            .plus(new Amount("1.60").times(count("90x90")));
          expect(one.sheetCost.toString()).toBe(paid.toString());
          expect(costBound.lte(one.sheetCost)).toBe(true);
          expect(best!.sheetCost.lte(one.sheetCost)).toBe(true);
        }
        if (best!.sheets.some((s) => s.sheet === "sawn")) sawn++;
      }),
      { seed: 6, numRuns: 30 },
    );
    expect(sawn).toBeGreaterThan(3);
    expect(sawn).toBeLessThan(30);
  });
});
