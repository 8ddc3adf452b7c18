import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { panelsOf } from "../../src/stages/panels.ts";

const BED = { widthMm: 600, heightMm: 400 };

function none(): number {
  return 0;
}

function ifLong({ widthMm }: { readonly widthMm: number }): number {
  return Number(widthMm >= 550);
}

describe("panels for a bed", () => {
  it.each([
    // Worked by hand: 4 x 600 + 3 x 4 mm of kerf are 2412 of 2440 mm; 3 x 400 + 2 x 4, 1208 of 1220.
    [2440, 1220, [4, 3, 600, 400]],
    // A strip of 200 is too narrow for anything but more panels: 2 x (1000 - 4) / 2.
    [1000, 400, [2, 1, 498, 400]],
    // Either way round on the bed.
    [400, 600, [1, 1, 400, 600]],
    [390, 1220, [1, 2, 390, 600]],
  ])("of %i x %i mm are as many and as large as can be", (widthMm, heightMm, expected) => {
    const panels = panelsOf({ widthMm, heightMm }, BED, none)!;
    expect([panels.across, panels.along, panels.widthMm, panels.heightMm]).toEqual(expected);
  });

  it("are such that parts go on them, before anything else", () => {
    const panels = panelsOf({ widthMm: 1000, heightMm: 400 }, BED, ifLong)!;
    expect(panels).toEqual({ across: 1, along: 1, widthMm: 600, heightMm: 400 });
  });

  it("lie on the bed and come out of the sheet, with a kerf between them", () => {
    let cases = 0;
    const side = fc.integer({ min: 20, max: 3100 });
    fc.assert(
      fc.property(side, side, side, side, (w, h, bedW, bedH) => {
        const bed = { widthMm: bedW, heightMm: bedH };
        const panels = panelsOf({ widthMm: w, heightMm: h }, bed, none);
        if (panels === null) return;
        cases++;
        const { across, along, widthMm, heightMm } = panels;
        const [short, long] = [Math.min(widthMm, heightMm), Math.max(widthMm, heightMm)];
        expect(short).toBeLessThanOrEqual(Math.min(bedW, bedH));
        expect(long).toBeLessThanOrEqual(Math.max(bedW, bedH));
        expect(across * widthMm + (across - 1) * 4).toBeLessThanOrEqual(w);
        expect(along * heightMm + (along - 1) * 4).toBeLessThanOrEqual(h);
      }),
      { seed: 2, numRuns: 300 },
    );
    expect(cases).toBeGreaterThan(290);
  });
});
