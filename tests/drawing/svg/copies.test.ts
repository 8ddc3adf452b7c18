import { describe, expect, it } from "vitest";
import { pathBounds } from "../../../src/geometry/path.ts";
import type { LineRule } from "../../../src/job/types.ts";
import { onlyProblem, page, readOne, readSvgText, rule } from "../reading.ts";

/** use, symbol, inner svg and switch: SVG 1.1 chapters 5 and 7. */

const RECT = `<rect width="50" height="50"/>`;

function bounds(content: string, id: string | null = null): number[] {
  const { minX, minY, maxX, maxY } = pathBounds(readOne(page(content), { id }).outline);
  return [minX, minY, maxX, maxY].map((value) => Number(value.toFixed(6)) + 0);
}

function tenCopies(level: number): string {
  return `<g id="l${level}">${`<use href="#l${level - 1}"/>`.repeat(10)}</g>`;
}

function boxAligned(aspect: string): number[] {
  return bounds(
    `<svg width="40" height="20" viewBox="0 0 10 10" overflow="visible" preserveAspectRatio="${aspect}"><rect width="10" height="10"/></svg>`,
  );
}

describe("use (SVG 1.1 section 5.6)", () => {
  const defs = `<defs><rect id="r" width="20" height="10"/><g id="g" transform="scale(2)"><use href="#r" x="1"/></g></defs>`;

  it("moves by x and y after its own transform, with either kind of href", () => {
    // On a page of 100 mm height y points up.
    expect(bounds(`${defs}<use href="#r" x="5" y="7"/>`)).toEqual([5, 83, 25, 93]);
    expect(bounds(`${defs}<use xlink:href="#r"/>`)).toEqual([0, 90, 20, 100]);
    expect(bounds(`${defs}<use href="#r" x="10" transform="rotate(90)"/>`)).toEqual([
      -10, 70, 0, 90,
    ]);
    expect(bounds(`${defs}<use href="#r" x="10%" y="1cm"/>`)).toEqual([
      20, 52.204724, 40, 62.204724,
    ]);
  });

  it("shows groups, copies of copies, and elements outside of definitions", () => {
    expect(bounds(`${defs}<use href="#g"/>`)).toEqual([2, 80, 42, 100]);
    const two = readOne(page(`${RECT}<circle id="c" cx="9" cy="9" r="3"/><use href="#c" x="20"/>`));
    expect(two.roundHoles.map(({ centre }) => centre.x)).toEqual([9, 29]);
  });

  it("may be a part itself, or stand in one", () => {
    expect(
      bounds(`${defs}<use id="a" href="#r" x="5" y="7"/><use href="#g" id="b"/>`, "a"),
    ).toEqual([5, 83, 25, 93]);
    expect(bounds(`${defs}<g id="p"><use href="#g" x="3"/></g>${RECT}`, "p")).toEqual([
      5, 80, 45, 100,
    ]);
  });

  it("hands styles down, and not those of where the original stands", () => {
    const rules: readonly LineRule[] = [
      rule("stroke", "red", "score"),
      rule("class", "deep", "engrave"),
    ];
    const circle = `<g stroke="red" display="none"><circle id="c" cx="9" cy="9" r="3"/></g>`;
    const counts = (use: string): number[] => {
      const { holes, scores, engravings } = readOne(page(`${circle}${RECT}${use}`), { rules });
      return [holes.length, scores.length, engravings.length];
    };
    expect(counts(`<use href="#c"/>`)).toEqual([1, 0, 0]);
    expect(counts(`<use href="#c" stroke="red"/>`)).toEqual([0, 1, 0]);
    expect(counts(`<g class="deep"><use href="#c"/></g>`)).toEqual([0, 0, 1]);
    expect(counts(`<use href="#c" visibility="hidden"/>`)).toEqual([0, 0, 0]);
    expect(counts(`<use href="#c" style="display:none"/>`)).toEqual([0, 0, 0]);
  });

  it.each([
    ["svg-external", `<use href="other.svg#a"/>`],
    ["svg-external", `<use xlink:href="https://example.org/a.svg#a"/>`],
    ["svg-external", `<use href="data:image/svg+xml;base64,AAAA"/>`],
    ["svg-use-target", `<use href="#nothing"/>`],
    ["svg-use-target", `<use/>`],
    ["svg-use-target", `<use href="#"/>`],
    ["svg-use-target", `<use href="#l"/><linearGradient id="l"/>`],
    ["svg-id-twice", `<use href="#t"/><g id="t"/><g id="t"/>`],
    ["svg-use-cycle", `<g id="a"><use href="#a"/></g>`],
    ["svg-use-cycle", `<use href="#b" id="b"/>`],
    ["svg-use-cycle", `<g id="a"><use href="#b"/></g><defs><g id="b"><use href="#a"/></g></defs>`],
    ["svg-use-cycle", `<symbol id="s"><use href="#s"/></symbol><use href="#s"/>`],
    ["svg-number", `<use href="#r" x="1em"/><defs><rect id="r"/></defs>`],
    ["svg-size", `<symbol id="s"/><use href="#s" width="-4"/>`],
  ])("is refused as %s: %s", (code, content) => {
    expect(onlyProblem(readSvgText(page(`${RECT}\n${content}`)))).toMatchObject({
      code,
      line: 3,
      severity: "error",
    });
  });

  it("is refused as a bomb of copies, or as too deep a chain, within the time limit", () => {
    const bomb = Array.from({ length: 9 }, (_, n) => tenCopies(n + 1)).join("");
    const many = readSvgText(
      page(`<defs><rect id="l0" width="1" height="1"/>${bomb}</defs><use href="#l9"/>`),
    );
    expect(many.problems.map(({ code }) => code)).toEqual(["svg-use-many"]);
    const links = Array.from(
      { length: 600 },
      (_, n) => `<g id="k${n + 1}"><use href="#k${n}"/></g>`,
    );
    const chain = page(
      `<defs><rect id="k0" width="9" height="9"/>${links.join("")}</defs><use href="#k600"/>`,
    );
    expect(onlyProblem(readSvgText(chain)).code).toBe("svg-too-deep");
  });
});

describe("symbol and inner svg (SVG 1.1 sections 5.5, 7.8 and 7.9)", () => {
  it("fit their view box into the frame that is said", () => {
    const symbol = `<symbol id="s" viewBox="0 0 10 10"><rect width="10" height="10"/></symbol>`;
    expect(bounds(`${symbol}<use href="#s" x="20" y="30" width="40" height="40"/>`)).toEqual([
      20, 30, 60, 70,
    ]);
    // In the middle of a wider frame: 40 x 20 shows 20 x 20.
    expect(bounds(`${symbol}<use href="#s" width="40" height="20"/>`)).toEqual([10, 80, 30, 100]);
    // Without width and height the whole page of 200 x 100, or what the symbol itself says (SVG 2).
    expect(bounds(`${symbol}<use href="#s"/>`)).toEqual([50, 0, 150, 100]);
    const sized = symbol.replace("<symbol", `<symbol width="20" height="20"`);
    expect(bounds(`${sized}<use href="#s"/>`)).toEqual([0, 80, 20, 100]);
  });

  it("align in nine ways, covering or fitting, or stretch", () => {
    // A 10 x 10 box in a frame of 40 x 20 at 0,0 (y down): meet has 20 mm to spare across,
    // slice 20 mm too much along y, of which the page's own y is 100 - y.
    const xs = { Min: 0, Mid: 10, Max: 20 };
    const ys = { Min: 0, Mid: -10, Max: -20 };
    let judged = 0;
    for (const [xName, left] of Object.entries(xs))
      for (const [yName, top] of Object.entries(ys)) {
        const align = `x${xName}Y${yName}`;
        expect(boxAligned(`${align} meet`)).toEqual([left, 80, left + 20, 100]);
        expect(boxAligned(align)).toEqual(boxAligned(`${align} meet`));
        expect(boxAligned(`${align} slice`)).toEqual([0, 100 - top - 40, 40, 100 - top]);
        judged++;
      }
    expect(judged).toBe(9);
    expect(boxAligned("none")).toEqual([0, 80, 40, 100]);
    expect(boxAligned("defer xMinYMin meet")).toEqual([0, 80, 20, 100]);
  });

  it("stand in each other, with percentages of the frame around (7.10)", () => {
    const inner = `<svg x="10%" y="50%" width="50%" height="50%" viewBox="0 0 100 50"><rect x="10%" width="50%" height="20%"/></svg>`;
    expect(bounds(inner)).toEqual([30, 40, 80, 50]);
    expect(
      bounds(`<g transform="translate(5)"><svg x="5"><svg x="5">${RECT}</svg></svg></g>`),
    ).toEqual([15, 50, 65, 100]);
    // Neither width nor height: sqrt((200^2 + 100^2) / 2) = 158.114.
    const { roundHoles } = readOne(
      page(`<rect width="200" height="100"/><circle cx="50%" cy="50%" r="10%"/>`),
    );
    expect(roundHoles).toEqual([{ diameterMm: 31.62, centre: { x: 100, y: 50 } }]);
    expect(bounds(`<svg x="7"><g id="a">${RECT}</g></svg>`, "a")).toEqual([7, 50, 57, 100]);
  });

  it("draw a symbol only where it is used", () => {
    expect(readOne(page(`${RECT}<symbol><circle r="4"/></symbol>`)).holes).toEqual([]);
  });

  it("warn of lines that reach beyond their frame, unless it lets them", () => {
    const framed = (attributes: string): string =>
      page(`\n<svg width="40" height="40" ${attributes}>${RECT}</svg>`);
    expect(onlyProblem(readSvgText(framed("")))).toMatchObject({
      code: "svg-clipped",
      severity: "warning",
      line: 3,
    });
    expect(readSvgText(framed(`overflow="visible"`)).problems).toEqual([]);
    expect(readSvgText(framed(`viewBox="0 0 50 50"`)).problems).toEqual([]);
    const turned = `<g transform="rotate(30 50 50)"><svg width="50" height="50">${RECT}</svg></g>`;
    expect(readSvgText(page(turned)).problems).toEqual([]);
  });

  it.each([
    ["svg-aspect", `preserveAspectRatio="middle"`],
    ["svg-aspect", `preserveAspectRatio="xMidYMid cover"`],
    ["svg-viewbox", `viewBox="0 0 5"`],
    ["svg-viewbox", `viewBox="0 0 5 -5"`],
    ["svg-size", `width="0"`],
    ["svg-size", `height="5em"`],
    ["svg-size", `x="left"`],
  ])("are refused as %s: %s", (code, attributes) => {
    const read = readSvgText(page(`${RECT}\n<svg ${attributes}><circle r="4"/></svg>`));
    expect(onlyProblem(read)).toMatchObject({ code, line: 3, severity: "error" });
  });
});

describe("a and switch (SVG 1.1 sections 17.1 and 5.8)", () => {
  it("show what is in the link, and the first choice without conditions", () => {
    const choices = `<foreignObject requiredExtensions="x"/><g systemLanguage="de"><circle r="9"/></g><g>${RECT}</g><g><text/></g>`;
    expect(
      readOne(page(`<a href="https://example.org"><switch>${choices}</switch></a>`)).cutLengthMm,
    ).toBe(200);
    expect(bounds(`<switch><g id="a">${RECT}</g></switch>`, "a")).toEqual([0, 50, 50, 100]);
  });

  it("that offers nothing is told", () => {
    const read = readSvgText(page(`${RECT}\n<switch><g systemLanguage="de"/></switch>`));
    expect(onlyProblem(read)).toMatchObject({ code: "svg-switch", line: 3, severity: "error" });
  });
});
