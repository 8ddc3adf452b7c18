import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fragileSpots } from "../../src/drawing/fragile.ts";
import { readPartGeometry } from "../../src/drawing/parts.ts";
import type { LineRule } from "../../src/job/types.ts";
import type { Problem } from "../../src/problem.ts";
import { ofDrawing, onlyProblem, page, part, readOne, readSvgText, rule } from "./reading.ts";

/**
 * Limits: smallest inner contour 0.7 x thickness (service design guide); good web = sheet thickness
 * (service kerf page); under 0.5 mm burns away (service artwork guide).
 */

const PLATE = `<rect width="100" height="60"/>`;

/** Of a part in 3 mm sheet, unless said. */
function spots(content: string, thicknessMm = 3): Problem[] {
  return fragileSpots(readOne(page(content)), thicknessMm);
}

function codes(content: string, thicknessMm = 3): string[] {
  return spots(content, thicknessMm).map(({ code }) => code);
}

describe("holes for the thickness", () => {
  it("are at least 0.7 thicknesses across", () => {
    expect(codes(`${PLATE}<circle cx="50" cy="30" r="1.1"/>`)).toEqual([]);
    const [small] = spots(
      `${PLATE}<circle cx="50" cy="30" r="1"/><circle cx="70" cy="30" r="0.8"/>`,
    );
    expect(small).toMatchObject({
      code: "hole-small",
      severity: "warning",
      found: "2 holes, the smallest of 1.6 mm, at 50, 70 mm; 70, 70 mm",
    });
    expect(small?.expected).toContain("2.1 mm");
    expect(codes(`${PLATE}<circle cx="50" cy="30" r="1.1"/>`, 5)).toEqual(["hole-small"]);
  });

  it("may be slots narrower than that", () => {
    expect(codes(`${PLATE}<rect x="40" y="20" width="1.9" height="20"/>`)).toEqual([]);
  });
});

describe("a part as a whole", () => {
  it.each([
    [`<rect width="50" height="1.2"/>`, "a part 1.2 mm wide where it is narrowest"],
    [`<rect width="0.4" height="0.3"/>`, "a part 0.3 mm wide where it is narrowest"],
    [
      `<rect width="50" height="2" transform="rotate(30 50 50)"/>`,
      "a part 2 mm wide where it is narrowest",
    ],
  ])("is as wide as the sheet is thick: %s", (content, found) => {
    expect(spots(content, 6).find(({ code }) => code === "part-thin")).toMatchObject({
      severity: "warning",
      found,
    });
  });

  it("may be as narrow as that", () => {
    expect(codes(`<rect width="50" height="6"/>`, 6)).toEqual([]);
    expect(codes(`<circle cx="9" cy="9" r="3"/>`, 6)).toEqual([]);
  });
});

describe("webs for the thickness", () => {
  it("between two holes, a hole and the outline, and along an outline are found with their place", () => {
    const holes = `<circle cx="30" cy="30" r="5"/><circle cx="42" cy="30" r="5"/>`;
    expect(spots(PLATE + holes)).toMatchObject([
      {
        code: "web-thin",
        severity: "warning",
        found: "a web of 2 mm between cut lines, at 36, 70 mm",
      },
    ]);
    expect(spots(`${PLATE}<circle cx="50" cy="53" r="5"/>`)[0]?.found).toMatch(
      /^a web of 2 mm between cut lines, at (49|50)\.\d+, 41\.\d+ mm$/,
    );
    const neck = `<path d="M0 0H40V29H60V0H100V60H60V31H40V60H0Z"/>`;
    expect(spots(neck)[0]).toMatchObject({ code: "web-thin" });
    expect(spots(neck)[0]?.found).toMatch(/^a web of 2 mm .* 70 mm$/);
  });

  it("under half a millimetre are told apart: they burn away", () => {
    const holes = `<circle cx="30" cy="30" r="5"/><circle cx="40.3" cy="30" r="5"/><circle cx="52.3" cy="30" r="5"/>`;
    expect(spots(PLATE + holes).map(({ code, found }) => [code, found])).toEqual([
      ["web-burnt", "a web of 0.3 mm between cut lines, at 35.15, 70 mm"],
      ["web-thin", "a web of 2 mm between cut lines, at 46.3, 70 mm"],
    ]);
    // In card of 0.3 mm only the half millimetre counts.
    expect(codes(PLATE + holes, 0.3)).toEqual(["web-burnt"]);
  });

  it("are not slots, notches, corners, points or stubs", () => {
    const fine = [
      `<rect x="40" y="20" width="2" height="20"/>`,
      `<rect x="20" y="20" width="60" height="20" rx="0.5"/>`,
    ];
    for (const hole of fine) expect(codes(PLATE + hole)).toEqual([]);
    const outlines = [
      `<path d="M0 0H40V30H42V0H100V60H0Z"/>`,
      `<path d="M0 0L90 8L0 16Z"/>`,
      `<path d="M0 0C40 0 70 5 90 8C70 11 40 16 0 16Z"/>`,
      `<path d="M0 0H100V29H103V31H100V60H0Z"/>`,
      `<path d="M0 3A3 3 0 0 1 3 0H97L100 1V60H0Z"/>`,
    ];
    for (const outline of outlines) expect(codes(outline)).toEqual([]);
  });

  it("are as wide as two circles lie apart, for every size and place (property)", () => {
    let thin = 0;
    fc.assert(
      fc.property(
        fc.integer({ min: 20, max: 120 }),
        fc.integer({ min: 20, max: 120 }),
        fc.integer({ min: 4, max: 60 }),
        fc.integer({ min: 0, max: 359 }),
        (one, two, gap, turn) => {
          const [r, s, web] = [one / 10, two / 10, gap / 10];
          const apart = r + s + web;
          const [x, y] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
          const found = spots(
            `<rect x="-50" y="-50" width="300" height="200"/><circle cx="100" cy="50" r="${r}"/><circle cx="${100 + apart * x}" cy="${50 + apart * y}" r="${s}"/>`,
          );
          const [, width] = /([\d.]+) mm between/.exec(found[0]?.found ?? "") ?? [];
          // Polygons lie up to 0.03 mm inside of each circle and may be simplified as much; one decimal.
          if (web < 2.8) thin++;
          const isRight =
            web < 2.8 ? Math.abs(Number(width) - web) < 0.15 : web < 3 || found.length === 0;
          expect(isRight).toBe(true);
        },
      ),
      { numRuns: 120, seed: 17 },
    );
    expect(thin).toBeGreaterThan(40);
  });

  it("are also looked for in shapes", () => {
    const ring = part({ kind: "ring", diameterMm: 30, boreMm: 26 });
    expect(onlyProblem(readPartGeometry([ring], [], []))).toMatchObject({
      code: "web-thin",
      file: "parts.csv",
      line: 2,
    });
  });

  it("of 5000 sides are found in well under a second", () => {
    const wave = Array.from({ length: 5000 }, (_, i) => {
      const turn = (2 * Math.PI * i) / 5000;
      const r = 40 + 4 * Math.sin(60 * turn);
      return `${(100 + r * Math.cos(turn)).toFixed(4)} ${(50 + r * Math.sin(turn)).toFixed(4)}`;
    });
    const geometry = readOne(
      page(`<polygon points="${wave.join(" ")}"/><circle cx="100" cy="50" r="34.5"/>`),
    );
    const found = fragileSpots(geometry, 3);
    expect(found.map(({ code }) => code)).toEqual(["web-thin"]);
    expect(found[0]?.found).toMatch(/1\.\d* mm between/);
  });
});

describe("scores and engravings outside of the outline", () => {
  const rules: readonly LineRule[] = [rule("class", "s", "score"), rule("class", "e", "engrave")];
  it.each([
    [`<path class="s" d="M50 30H110"/>`, "a scored line outside of the outline, at 101.56, 70 mm"],
    [`<circle class="e" cx="150" cy="30" r="5"/>`, "an engraving outside of the outline"],
    [
      `<path class="s" d="M120 10h5"/><path class="s" d="M130 10h5"/>`,
      "a scored line and 1 more outside",
    ],
  ])("are warned of: %s", (content, found) => {
    const problem = onlyProblem(readSvgText(page(`${PLATE}\n${content}`), { rules }));
    expect(problem).toMatchObject({ code: "line-outside", severity: "warning", line: 3 });
    expect(problem.found).toContain(found);
  });

  it("are not lines from edge to edge, or on the outline itself", () => {
    for (const d of ["M0 30H100", "M-0.1 30H100.1", "M0 0H100", "M0 0L100 60"])
      expect(ofDrawing(readSvgText(page(`${PLATE}<path class="s" d="${d}"/>`), { rules }))).toEqual(
        [],
      );
  });
});
