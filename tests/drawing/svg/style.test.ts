import { describe, expect, it } from "vitest";
import { readStyleSheet } from "../../../src/drawing/svg/style-sheet.ts";
import type { LineRule } from "../../../src/job/types.ts";
import { onlyProblem, page, readOne, readSvgText, rule } from "../reading.ts";

const RECT = `<rect width="50" height="50"/>`;
const RULES: readonly LineRule[] = [rule("stroke", "red", "score")];

/** Whether the circle in a rectangle is scored, when its stroke is red, by these styles. */
function isScored(css: string, circle: string, around = ""): boolean {
  const { scores, holes } = readOne(
    page(
      `<style>${css}</style><rect width="50" height="50" style="stroke:black"/><g ${around}><circle cx="20" cy="20" r="4" ${circle}/></g>`,
    ),
    { rules: RULES },
  );
  expect(scores.length + holes.length).toBe(1);
  return scores.length === 1;
}

function ranked(css: string): boolean {
  return isScored(css, `id="i" class="c d"`);
}

function holesWith(css: string): number {
  const circle = `<g class="g"><circle class="c" cx="9" cy="9" r="4"/></g>`;
  return readOne(page(`<style>${css}</style>${RECT}${circle}`)).holes.length;
}

describe("style sheets (SVG 1.1 chapter 6, CSS 2.1 chapters 5 and 6)", () => {
  it("reach elements by type, class, id, everything, and those together", () => {
    for (const selector of ["circle", ".c", "#i", "*", "circle.c", ".c#i", "circle.c.d#i"])
      expect(isScored(`${selector}{stroke:red}`, `id="i" class="c d"`)).toBe(true);
    for (const selector of ["path", ".e", "#j", "path.c", ".c.e", ".c#j"])
      expect(isScored(`${selector}{stroke:red}`, `id="i" class="c d"`)).toBe(false);
  });

  it("read lists, comments, several sheets, and sheets in CDATA", () => {
    expect(isScored(`/* a{ */ path , .c /*,*/ { fill:none ; stroke : RED }`, `class="c"`)).toBe(
      true,
    );
    const twoSheets = page(
      `<style><![CDATA[.c{stroke:blue}]]></style>${RECT}<circle class="c" cx="9" cy="9" r="4"/><style>.c{stroke:#f00}</style>`,
    );
    expect(readOne(twoSheets, { rules: RULES }).scores).toHaveLength(1);
  });

  it("rank ids over classes over types, and the later over the earlier (6.4.3)", () => {
    expect(ranked("#i{stroke:red} .c.d{stroke:blue} circle{stroke:blue}")).toBe(true);
    expect(ranked(".c.d{stroke:red} .c{stroke:blue}")).toBe(true);
    expect(ranked(".c{stroke:red} circle{stroke:blue} *{stroke:blue}")).toBe(true);
    expect(ranked(".c{stroke:blue} .d{stroke:red}")).toBe(true);
    expect(ranked(".d{stroke:red} .c{stroke:blue}")).toBe(false);
    expect(ranked("circle{stroke:red !important} #i{stroke:blue}")).toBe(true);
  });

  it("stand under the style attribute and over the attribute of the same name (6.4)", () => {
    expect(isScored(".c{stroke:red}", `class="c" stroke="blue"`)).toBe(true);
    expect(isScored(".c{stroke:blue}", `class="c" style="stroke:red"`)).toBe(true);
    expect(isScored(".c{stroke:red!important}", `class="c" style="stroke:blue"`)).toBe(true);
    expect(isScored(".c{stroke:inherit}", `class="c" stroke="blue"`, `stroke="red"`)).toBe(true);
    expect(isScored(".c{color:red}", `class="c" stroke="currentColor"`)).toBe(true);
  });

  it("hide with display what is inside, whatever that says (SVG 1.1 section 11.5)", () => {
    expect(holesWith(".g{display:none} .c{display:inline}")).toBe(0);
    expect(holesWith(".g{visibility:hidden}")).toBe(0);
    expect(holesWith(".g{visibility:hidden} .c{visibility:visible}")).toBe(1);
    expect(holesWith(".g{visibility:collapse}")).toBe(0);
  });

  it("clip and move as the style attribute does, which is refused", () => {
    for (const css of ["clip-path:url(#k)", "mask:url(#m)", "transform:rotate(4deg)"])
      expect(onlyProblem(readSvgText(page(`<style>rect{${css}}</style>\n${RECT}`)))).toMatchObject({
        code: "svg-uncuttable",
        line: 3,
      });
  });

  it("name in a warning what they do not follow", () => {
    const css = `@import url(a.css); @media print{rect{display:none}} @font-face{src:x} g rect,rect:hover,[x]{stroke:red} a b{font:x}`;
    const problem = onlyProblem(readSvgText(page(`${RECT}\n<style>${css}</style>`)));
    expect(problem).toMatchObject({ code: "svg-style-sheet", severity: "warning", line: 3 });
    expect(problem.found).toBe("@import url(a.css), @media print, g rect, rect:hover, [x]");
    const elsewhere = `<?xml-stylesheet href="a.css"?>\n${page(RECT)}`;
    expect(onlyProblem(readSvgText(elsewhere))).toMatchObject({
      code: "svg-style-sheet",
      severity: "warning",
      found: "<?xml-stylesheet?>",
    });
  });

  it("that are broken off are read to their end", () => {
    for (const css of [
      "",
      ";;",
      "}",
      "a{",
      ".c{stroke:red",
      "/* a",
      "@media x{",
      "a,,b{stroke:red}",
    ])
      expect(() => readStyleSheet(css)).not.toThrow();
    expect(isScored(".c{stroke:red", `class="c"`)).toBe(true);
  });
});

describe("lines without fill and stroke", () => {
  const frame = `<rect x="60" width="9" height="9" fill="none"/>`;
  it("are left out with a warning", () => {
    const read = readSvgText(page(`${RECT}\n${frame}\n${frame}`));
    expect(onlyProblem(read)).toMatchObject({
      code: "svg-unpainted",
      severity: "warning",
      line: 3,
      found: "2 lines",
    });
    expect(onlyProblem(read).expected).toContain("left out");
    expect(read.value?.[0]?.cutLengthMm).toBe(200);
    for (const paint of [`fill="none" stroke="none"`, `style="fill:none;stroke:transparent"`])
      expect(readOne(page(`${RECT}<circle r="4" ${paint}/>`)).cutLengthMm).toBe(200);
  });

  it("are taken, also with a warning, when nothing else is drawn", () => {
    const read = readSvgText(page(frame));
    expect(onlyProblem(read).expected).toContain("taken only because");
    expect(read.value?.[0]?.cutLengthMm).toBe(36);
  });

  it("are taken when a rule names them, or a group around them is stroked", () => {
    const hole = `<circle cx="9" cy="9" r="4" fill="none" class="holes"/>`;
    const rules: readonly LineRule[] = [rule("class", "holes", "cut")];
    expect(readSvgText(page(`${RECT}${hole}`), { rules }).problems).toEqual([]);
    expect(readSvgText(page(`<g stroke="red">${RECT}${hole}</g>`)).problems).toEqual([]);
  });
});

describe("decorations", () => {
  it.each([
    ["marker-end", `<path d="M10 20h8v8z" marker-end="url(#m)"/>`],
    ["marker", `<path d="M10 20h8v8z" style="marker:url(#m)"/>`],
    ["a pattern as fill", `<circle cx="9" cy="9" r="4" fill="url(#p)"/>`],
    ["a pattern as stroke", `<circle cx="9" cy="9" r="4" style="stroke:url('#p')"/>`],
  ])("that are left out are told: %s", (found, content) => {
    const defs = `<defs><pattern id="p"><circle r="1"/></pattern><marker id="m"/><linearGradient id="l"/></defs>`;
    const read = readSvgText(
      page(`${defs}${RECT}<rect fill="url(#l)" x="30" y="30" width="9" height="9"/>\n${content}`),
    );
    expect(onlyProblem(read)).toMatchObject({
      code: "svg-left-out",
      severity: "warning",
      found,
      line: 3,
    });
    expect(read.value?.[0]?.holes).toHaveLength(2);
  });
});
