import { describe, expect, it } from "vitest";
import { pathBounds } from "../../../src/geometry/path.ts";
import { onlyProblem, readOne, readSvgText } from "../reading.ts";

const RECT = `<rect x="10" y="20" width="30" height="40"/>`;

function svg(attributes: string, content = RECT): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" ${attributes}>${content}</svg>`;
}

function box(text: string): number[] {
  const { minX, minY, maxX, maxY } = pathBounds(readOne(text).outline);
  return [minX, minY, maxX, maxY].map((value) => Number(value.toFixed(6)));
}

/** On a page that is twice as wide as its viewBox. */
function on(aspect: string): number[] {
  return box(svg(`width="100mm" height="80mm" viewBox="0 0 50 80" ${aspect}`));
}

function warned(size: string): boolean {
  return readSvgText(svg(size)).problems.some(({ code }) => code === "svg-proportions");
}

describe("the page", () => {
  it("takes every real unit at its size (CSS Values: 1in = 2.54cm = 96px = 72pt = 6pc)", () => {
    const sizes = { mm: 254, cm: 25.4, in: 10, px: 960, pt: 720, pc: 60 };
    for (const [unit, size] of Object.entries(sizes))
      expect(
        box(svg(`width="${size}${unit}" height="${size}${unit}" viewBox="0 0 254 254"`)),
      ).toEqual([10, 194, 40, 234]);
  });

  it("without a viewBox counts user units of 1/96 in", () => {
    // 96 units are an inch: x 10 units = 2.645833 mm; the page is 100 mm high.
    const px = 25.4 / 96;
    const expected = [10 * px, 100 - 60 * px, 40 * px, 100 - 20 * px].map((v) =>
      Number(v.toFixed(6)),
    );
    expect(box(svg(`width="100mm" height="100mm"`))).toEqual(expected);
  });

  it("takes a missing side from the viewBox", () => {
    expect(box(svg(`width="100mm" viewBox="0 0 50 80"`))).toEqual([20, 40, 80, 120]);
    expect(box(svg(`height="160mm" width="100%" viewBox="0 0 50 80"`))).toEqual([20, 40, 80, 120]);
  });

  it("subtracts the viewBox's corner", () => {
    expect(box(svg(`width="50mm" height="80mm" viewBox="5 -10 50 80"`))).toEqual([5, 10, 35, 50]);
  });

  it("warns of a page of other proportions than its viewBox, but not of rounding or of none", () => {
    expect(warned(`width="300mm" height="130mm" viewBox="0 0 300 260"`)).toBe(true);
    expect(warned(`width="210mm" height="297mm" viewBox="0 0 595 842"`)).toBe(false);
    expect(warned(`width="100mm" viewBox="0 0 50 80"`)).toBe(false);
    const stretched = `width="100mm" height="80mm" viewBox="0 0 50 80"`;
    expect(warned(`${stretched} preserveAspectRatio="none"`)).toBe(false);
  });

  it("fits the viewBox by preserveAspectRatio", () => {
    // A 50 x 80 box on a 100 x 80 mm page: 50 mm to spare across.
    expect(on("")).toEqual([35, 20, 65, 60]);
    expect(on(`preserveAspectRatio="xMinYMid"`)).toEqual([10, 20, 40, 60]);
    expect(on(`preserveAspectRatio="xMaxYMax meet"`)).toEqual([60, 20, 90, 60]);
    expect(on(`preserveAspectRatio="none"`)).toEqual([20, 20, 80, 60]);
    // Covering the page doubles the scale; 80 mm stand over, half of them above.
    expect(on(`preserveAspectRatio="xMidYMid slice"`)).toEqual([20, 0, 80, 80]);
  });

  it("without any size warns and says what it takes a unit for", () => {
    const read = readSvgText(svg(`viewBox="0 0 96 96"`));
    expect(onlyProblem(read)).toMatchObject({
      code: "svg-size-missing",
      severity: "warning",
      line: 1,
    });
    expect(onlyProblem(read).expected).toContain("1/96 in");
    expect(box(svg(`viewBox="0 0 96 96"`))[2]).toBeCloseTo((40 * 25.4) / 96, 6);
  });

  it("warns of a size without a unit", () => {
    const read = readSvgText(svg(`width="96" height="96" viewBox="0 0 96 96"`));
    expect(onlyProblem(read)).toMatchObject({ code: "svg-size-missing", severity: "warning" });
  });

  it.each([
    [`width="wide" height="5mm"`, "svg-size"],
    [`width="0mm" height="5mm"`, "svg-size"],
    [`width="5mm" height="5mm" viewBox="0 0 5"`, "svg-viewbox"],
    [`width="5mm" height="5mm" viewBox="0 0 0 5"`, "svg-viewbox"],
  ])("refuses %s", (attributes, code) => {
    expect(onlyProblem(readSvgText(svg(attributes)))).toMatchObject({ code, severity: "error" });
  });
});
