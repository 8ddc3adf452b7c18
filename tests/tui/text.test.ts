import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cut, displayWidth, left, right, wrap } from "../../src/tui/text.ts";

describe("widths", () => {
  // UAX #11, East Asian Width: narrow, ambiguous (one cell outside East Asian fonts), wide, fullwidth;
  // UTS #51: a text-default pictograph is wide only with U+FE0F.
  it.each([
    ["Ø½±²→█", 6],
    ["中文", 4],
    ["Ａ", 2],
    ["한국", 4],
    ["⚠", 1],
    ["⚠\uFE0F", 2],
    ["👩‍🔧", 2],
    ["🇫🇮", 2],
    ["e\u0301", 1],
    ["mm²", 3],
    ["⣿⡇", 2],
  ])("%s takes %d cells", (text, cells) => {
    expect(displayWidth(text)).toBe(cells);
  });
});

describe("cutting and padding", () => {
  it("cuts at a grapheme and says so", () => {
    expect(cut("heron", 5)).toBe("heron");
    expect(cut("heron", 4)).toBe("her…");
    expect(cut("中文字", 4)).toBe("中…");
    expect(cut("a👩‍🔧b", 2)).toBe("a…");
    expect(cut("heron", 0)).toBe("");
  });

  it("always fills exactly the cells it is given", () => {
    let shortened = 0;
    fc.assert(
      fc.property(
        fc.string({ unit: "grapheme", maxLength: 30 }),
        fc.integer({ min: 1, max: 30 }),
        (text, cells) => {
          if (displayWidth(text) > cells) shortened++;
          expect(displayWidth(left(text, cells))).toBe(cells);
          expect(displayWidth(right(text, cells))).toBe(cells);
        },
      ),
      { numRuns: 500, seed: 3 },
    );
    expect(shortened).toBeGreaterThan(50);
  });

  it("measures a text as the sum of its graphemes, plain or not", () => {
    const graphemes = new Intl.Segmenter("en", { granularity: "grapheme" });
    fc.assert(
      fc.property(fc.string({ unit: "grapheme", maxLength: 20 }), (text) => {
        const parts = Array.from(graphemes.segment(text), ({ segment }) => displayWidth(segment));
        expect(displayWidth(text)).toBe(parts.reduce((sum, width) => sum + width, 0));
      }),
      { numRuns: 300, seed: 5 },
    );
    // The soft hyphen takes no cell, the white medium square (emoji by itself) two: UTS #51.
    expect(displayWidth("a\u00ADb")).toBe(2);
    expect(displayWidth("\u25FD")).toBe(2);
  });

  it("shows control characters instead of sending them", () => {
    expect(cut("a\u001B[31mb\n", 20)).toBe("a␛[31mb␊");
  });
});

describe("wrapping", () => {
  it("breaks at blanks, indents what follows and loses nothing", () => {
    expect(wrap("one two three four", 9, 2)).toEqual(["one two", "  three", "  four"]);
  });

  it("breaks a word that is longer than the line", () => {
    const lines = wrap("a".repeat(25), 10, 0);
    expect(lines.join("")).toBe("a".repeat(25));
    expect(Math.max(...lines.map(displayWidth))).toBeLessThanOrEqual(10);
  });
});
