import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readTransform } from "../../../src/drawing/svg/transform.ts";
import { applyToPoint, determinant } from "../../../src/geometry/affine.ts";
import { page, readOne } from "../reading.ts";

const number = fc.integer({ min: -300, max: 300 }).map((n) => n / 10);

describe("transform attributes", () => {
  it("are read as SVG 1.1 section 7.6 has them, worked by hand", () => {
    expect(at("translate(10)")).toEqual([13, 2]);
    expect(at("translate(10 -5)")).toEqual([13, -3]);
    expect(at("scale(2)")).toEqual([6, 4]);
    expect(at("scale(2,-1)")).toEqual([6, -2]);
    expect(at("rotate(90)")).toEqual([-2, 3]);
    expect(at("rotate(90, 3, 0)")).toEqual([1, 0]);
    expect(at("skewX(45)")).toEqual([5, 2]);
    expect(at("skewY(45)")).toEqual([3, 5]);
    expect(at("matrix(1 2 3 4 5 6)")).toEqual([14, 20]);
    // The right one first: moved, then turned, then doubled.
    expect(at("scale(2) , rotate(90)translate(1,0)")).toEqual([-4, 8]);
  });

  it.each([
    "rotate(1,2)",
    "scale()",
    "turn(90)",
    "translate(1,2) oops",
    "translate(a)",
    "matrix(1 2 3 4 5)",
  ])("refuses %s", (text) => expect(readTransform(text)).toBeNull());

  it("keep length under rigid motion and scale area by their determinant", () => {
    let judged = 0;
    const curved = `<path d="M20 20C60 0 90 40 60 60A20 20 0 0 1 30 50Q10 40 20 20Z"/>`;
    const plain = readOne(page(curved));
    fc.assert(
      fc.property(
        number,
        number,
        number,
        fc.boolean(),
        number,
        number,
        (angle, x, y, mirror, skew, grow) => {
          const rigid = `translate(${x} ${y}) rotate(${angle}) scale(${mirror ? -1 : 1} 1)`;
          const moved = readOne(page(`<g transform="${rigid}">${curved}</g>`));
          expect(moved.cutLengthMm / plain.cutLengthMm).toBeCloseTo(1, 9);
          expect(moved.areaMm2 / plain.areaMm2).toBeCloseTo(1, 9);
          const uneven = `skewX(${skew}) scale(${1 + Math.abs(grow)} 1.5)`;
          const stretched = readOne(
            page(`<g transform="${rigid}"><g transform="${uneven}">${curved}</g></g>`),
          );
          const factor = Math.abs(
            determinant(readTransform(uneven) ?? { a: 0, b: 0, c: 0, d: 0, e: 0, f: 0 }),
          );
          expect(stretched.areaMm2 / plain.areaMm2 / factor).toBeCloseTo(1, 6);
          judged++;
        },
      ),
      { numRuns: 60, seed: 71 },
    );
    expect(judged).toBe(60);
  });
});

/** Where the map takes 3,2. */
function at(text: string): number[] {
  const matrix = readTransform(text);
  if (matrix === null) return [];
  const { x, y } = applyToPoint(matrix, { x: 3, y: 2 });
  return [x, y].map((value) => Number(value.toFixed(9)));
}
