import { describe, expect, it } from "vitest";
import { readPartGeometry } from "../../src/drawing/parts.ts";
import { pathBounds } from "../../src/geometry/path.ts";
import type { LineRule } from "../../src/job/types.ts";
import { onlyProblem, page, part, readOne, readSvgText, rule } from "./reading.ts";

/** Five pieces; the page's y points down, so that the second column's lower piece is drawn last. */
const SHEET = page(`<rect x="120" y="10" width="20" height="20"/>
<rect x="10" y="10" width="40" height="40"/><circle cx="30" cy="30" r="15"/><circle cx="30" cy="30" r="9"/>
<rect x="60" y="10" width="30" height="20"/>
<path class="s" d="M65 75h5"/><circle class="e" cx="75" cy="75" r="3"/>
<rect x="60" y="60" width="30" height="30"/><rect x="80" y="80" width="5" height="5"/>`);

const RULES: readonly LineRule[] = [rule("class", "s", "score"), rule("class", "e", "engrave")];

describe("each closed outline as a piece", () => {
  it("is numbered from left to right, then from bottom to top", () => {
    const boxes = [1, 2, 3, 4, 5].map((number) => {
      const { outline, holes } = readOne(SHEET, { id: `outline-${number}`, rules: RULES });
      const { minX, minY } = pathBounds(outline);
      return [Math.round(minX), Math.round(minY), holes.length];
    });
    expect(boxes).toEqual([
      [10, 50, 1],
      [21, 61, 0],
      [60, 10, 1],
      [60, 70, 0],
      [120, 70, 0],
    ]);
  });

  it("keeps its number however the drawing is ordered", () => {
    const lines = SHEET.split("\n");
    const turned = [lines[0], ...lines.slice(1, -1).toReversed(), lines.at(-1)].join("\n");
    for (const id of ["outline-1", "outline-2", "outline-3", "outline-4", "outline-5"])
      expect(readOne(turned, { id, rules: RULES }).areaMm2).toBe(
        readOne(SHEET, { id, rules: RULES }).areaMm2,
      );
  });

  it("takes the scores and engravings inside its outline, and no others", () => {
    const counts = [1, 3, 4].map((number) => {
      const { scores, engravings } = readOne(SHEET, { id: `outline-${number}`, rules: RULES });
      return [scores.length, engravings.length];
    });
    expect(counts).toEqual([
      [0, 0],
      [1, 1],
      [0, 0],
    ]);
  });

  it("warns of scores and engravings that belong to none", () => {
    const lost = page(`<rect width="20" height="20"/>\n<path class="s" d="M100 50h9"/>`);
    const read = readSvgText(lost, { id: "outline-1", rules: RULES });
    expect(onlyProblem(read)).toMatchObject({ code: "line-outside", severity: "warning", line: 3 });
    expect(onlyProblem(read).found).toContain("100, 50 mm");
  });

  it("that does not exist brings those that do, in the parts list", () => {
    const problem = onlyProblem(readSvgText(SHEET, { id: "outline-9", rules: RULES }));
    expect(problem).toMatchObject({
      code: "outline-unknown",
      file: "parts.csv",
      column: "drawing",
      found: "#outline-9",
    });
    expect(problem.expected).toBe(
      "one of 5 outlines: outline-1 at 10, 50 mm (40 x 40 mm); outline-2 at 21, 61 mm (18 x 18 mm); outline-3 at 60, 10 mm (30 x 30 mm); outline-4 at 60, 70 mm (30 x 20 mm); ... outline-5",
    );
  });

  it("is what a drawing named as one part offers", () => {
    const problem = onlyProblem(
      readSvgText(page(`<rect width="20" height="20"/>\n<rect x="30" width="9" height="20"/>`)),
    );
    expect(problem).toMatchObject({ code: "outline-several", line: 3, severity: "error" });
    expect(problem.found).toBe(
      "2 outlines: outline-1 at 0, 80 mm (20 x 20 mm); outline-2 at 30, 80 mm (9 x 20 mm)",
    );
    expect(problem.mend).toContain("a.svg#outline-1 to a.svg#outline-2");
    const group = page(
      `<g id="a"><rect width="20" height="20"/>\n<rect x="30" width="9" height="20"/></g>`,
    );
    expect(onlyProblem(readSvgText(group, { id: "a" })).mend).toContain("a.svg#outline-1");
  });

  it("yields to an element of that id", () => {
    const svg = page(
      `<rect width="20" height="20"/><rect id="outline-1" x="30" width="9" height="20"/>`,
    );
    expect(readOne(svg, { id: "outline-1" }).areaMm2).toBe(180);
    for (const id of ["outline-0", "outline-", "outline-1a", "outline-01"])
      expect(onlyProblem(readSvgText(svg, { id })).code).toBe("svg-id-unknown");
  });

  it("is read in one go for many parts, faults of the drawing said once", () => {
    const svg = page(
      `<rect width="20" height="20"/><rect x="30" width="9" height="20"/><path d="M90 90h9"/>`,
    );
    const parts = ["outline-1", "outline-2"].map((id) =>
      part({ kind: "drawing", path: "a.svg", id }, id),
    );
    const read = readPartGeometry(parts, [{ name: "a.svg", text: svg, sha256: "" }], []);
    expect(onlyProblem(read).code).toBe("contour-open");
  });
});
