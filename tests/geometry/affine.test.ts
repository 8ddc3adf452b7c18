import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  applyToPath,
  applyToPoint,
  compose,
  determinant,
  isSimilarity,
} from "../../src/geometry/affine.ts";
import type { Affine } from "../../src/geometry/affine.ts";
import { circlePath, pathArea, pathLength } from "../../src/geometry/path.ts";
import { ellipseLength } from "./closed-forms.ts";
import { closedPath, point } from "./paths.ts";

const entry = fc.integer({ min: -48, max: 48 }).map((n) => n / 16);
const affine: fc.Arbitrary<Affine> = fc.record({
  a: entry,
  b: entry,
  c: entry,
  d: entry,
  e: entry,
  f: entry,
});

describe("affine maps", () => {
  it("scale areas by their determinant, sign and all", () => {
    let mirroring = 0;
    fc.assert(
      fc.property(affine, closedPath, (matrix, path) => {
        const before = pathArea(path);
        const after = pathArea(applyToPath(matrix, path));
        const scale = 1e-6 * pathLength(path) ** 2 * 10 + 1e-6;
        expect(Math.abs(after - determinant(matrix) * before)).toBeLessThan(scale);
        if (determinant(matrix) < 0) mirroring++;
      }),
      { numRuns: 200, seed: 41 },
    );
    expect(mirroring).toBeGreaterThan(60);
  });

  it("compose as one after the other", () => {
    fc.assert(
      fc.property(affine, affine, point, (outer, inner, p) => {
        const once = applyToPoint(compose(outer, inner), p);
        const twice = applyToPoint(outer, applyToPoint(inner, p));
        expect(once.x).toBeCloseTo(twice.x, 9);
        expect(once.y).toBeCloseTo(twice.y, 9);
      }),
      { numRuns: 200, seed: 42 },
    );
  });

  it("keep arcs as arcs when they are similarities, also mirrored ones", () => {
    const circle = circlePath({ x: 1, y: 2 }, 10);
    for (const matrix of [
      { a: 0, b: 3, c: -3, d: 0, e: 1, f: 1 },
      { a: 3, b: 0, c: 0, d: -3, e: 0, f: 50 },
    ]) {
      expect(isSimilarity(matrix)).toBe(true);
      const mapped = applyToPath(matrix, circle);
      expect(mapped.segments.map(({ kind }) => kind)).toEqual(["arc", "arc"]);
      expect(pathLength(mapped)).toBeCloseTo(60 * Math.PI, 10);
      expect(pathArea(mapped)).toBeCloseTo(Math.sign(determinant(matrix)) * 900 * Math.PI, 9);
    }
  });

  it("turn a circle into an ellipse of the length that the AGM gives", () => {
    const [a, b] = [80, 25];
    const ellipse = applyToPath({ a, b: 0, c: 0, d: b, e: 5, f: 5 }, circlePath({ x: 0, y: 0 }, 1));
    expect(Math.abs(pathLength(ellipse) / ellipseLength(a, b) - 1)).toBeLessThan(1e-7);
    expect(Math.abs(pathArea(ellipse) / (Math.PI * a * b) - 1)).toBeLessThan(1e-7);
  });
});
