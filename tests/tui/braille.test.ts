import { describe, expect, it } from "vitest";
import { circlePath } from "../../src/geometry/path.ts";
import type { NestedSheet, Placement } from "../../src/nesting/types.ts";
import { drawSheet } from "../../src/tui/braille.ts";
import { geometry, rectangle } from "./fixture.ts";

function sheet(
  widthMm: number,
  heightMm: number,
  placements: readonly Placement[] = [],
): NestedSheet {
  return { sheet: "test", widthMm, heightMm, placements };
}

function at(part: string, xMm: number, yMm: number, turnDeg = 0, mirrored = false): Placement {
  return { part, copy: 1, turnDeg, mirrored, xMm, yMm };
}

/** Dots that are set, as `column,row` with row 0 at the top (Unicode, Braille Patterns, U+2800 on). */
function dots(lines: readonly string[]): ReadonlySet<string> {
  const bits = [0x01, 0x02, 0x04, 0x40, 0x08, 0x10, 0x20, 0x80];
  const found = new Set<string>();
  lines.forEach((line, row) =>
    Array.from(line).forEach((cell, column) =>
      bits.forEach((bit, index) => {
        const code = (cell.codePointAt(0) ?? 0) - 0x2800;
        if (code & bit) found.add(`${column * 2 + Math.floor(index / 4)},${row * 4 + (index % 4)}`);
      }),
    ),
  );
  return found;
}

const NOTHING = new Map<string, never>();

describe("the sheet", () => {
  it("is a frame of dots: 8 x 8 dots for 7 x 7 mm in 4 x 2 cells", () => {
    // Worked by hand: 1 mm to a dot, edges at columns 0 and 7 and rows 0 and 7.
    const { lines } = drawSheet(sheet(7, 7), NOTHING, 4, 2);
    expect(lines).toEqual(["⡏⠉⠉⢹", "⣇⣀⣀⣸"]);
  });

  it("keeps its proportions: a square is twice as many columns as rows", () => {
    const { lines } = drawSheet(sheet(500, 500), NOTHING, 80, 20);
    expect(lines.length).toBe(20);
    expect(lines[0]?.length).toBe(40);
  });

  it.each([
    [600, 400, 50, 18],
    [3000, 1500, 77, 39],
    [300, 6000, 40, 18],
    [6000, 300, 40, 18],
    [1, 1, 1, 1],
  ])("%d x %d mm fits %d x %d cells and fills them one way", (width, height, columns, rows) => {
    const { lines } = drawSheet(sheet(width, height), NOTHING, columns, rows);
    expect(lines.length).toBeLessThanOrEqual(rows);
    for (const line of lines) expect(line.length).toBeLessThanOrEqual(columns);
    expect(lines.length === rows || lines[0]?.length === columns).toBe(true);
    const dotsWide = Math.max(...[...dots(lines)].map((dot) => Number(dot.split(",")[0])));
    const dotsHigh = Math.max(...[...dots(lines)].map((dot) => Number(dot.split(",")[1])));
    expect(Math.abs(dotsWide / width - dotsHigh / height)).toBeLessThanOrEqual(
      1 / Math.min(width, height),
    );
  });
});

describe("parts on the sheet", () => {
  const parts = new Map([
    ["bar", geometry("bar", rectangle(20, 4))],
    ["ring", geometry("ring", circlePath({ x: 10, y: 10 }, 10), [circlePath({ x: 10, y: 10 }, 5)])],
  ]);
  // 42 x 44 dots for 41 x 43 mm: 1 mm to a dot, y up, so y = 43 is row 0.
  const draw = (placement: Placement, selected: string | null = null): ReadonlySet<string> =>
    dots(drawSheet(sheet(41, 43, [placement]), parts, 21, 11, selected).lines);

  it("a rectangle's corners and edges lie where it was placed, with y up", () => {
    const found = draw(at("bar", 5, 30));
    for (const dot of ["5,13", "25,13", "5,9", "25,9", "15,13", "15,9", "5,11"])
      expect(found).toContain(dot);
    expect(found).not.toContain("15,11");
    expect(found).not.toContain("5,33");
  });

  it("is turned counter-clockwise about 0,0 and mirrored before", () => {
    expect(draw(at("bar", 10, 5, 90))).toContain("10,38");
    expect(draw(at("bar", 10, 5, 90))).toContain("6,18");
    expect(draw(at("bar", 30, 5, 0, true))).toContain("10,38");
    expect(draw(at("bar", 30, 5, 0, true))).not.toContain("35,38");
  });

  it("shows holes", () => {
    const found = draw(at("ring", 10, 10));
    for (const dot of ["30,23", "10,23", "25,23", "15,23"]) expect(found).toContain(dot);
    expect(found).not.toContain("20,23");
  });

  it("shades the selected part, its holes left open, and says which cells show it", () => {
    const shaded = [...draw(at("ring", 10, 10), "ring")];
    const bare = new Set(draw(at("ring", 10, 10)));
    const added = shaded.filter((dot) => !bare.has(dot));
    // Half of the ring's area, pi (10^2 - 5^2) = 236 mm2, less the dots of its outlines.
    expect(added.length).toBeGreaterThan(60);
    expect(added.length).toBeLessThan(118);
    for (const dot of added) {
      const [x = 0, y = 0] = dot.split(",").map(Number);
      const radius = Math.hypot(x - 20, y - 23);
      expect(radius).toBeGreaterThanOrEqual(5);
      expect(radius).toBeLessThanOrEqual(10);
    }
    const { selected } = drawSheet(
      sheet(41, 43, [at("ring", 10, 10), at("bar", 5, 33)]),
      parts,
      21,
      11,
      "ring",
    );
    expect(selected[5]?.has(6)).toBe(true);
    expect(selected[1]?.size).toBe(0);
  });

  it("leaves out a part that it has no geometry of", () => {
    expect(draw(at("stranger", 5, 5))).toEqual(dots(drawSheet(sheet(41, 43), parts, 21, 11).lines));
  });
});
