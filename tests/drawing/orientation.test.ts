import { describe, expect, it } from "vitest";
import { pathArea } from "../../src/geometry/path.ts";
import { pointInRing, ringArea } from "../../src/geometry/ring.ts";
import { page, readOne } from "./reading.ts";

/** An F, 40 x 60, its stem on the left, with a hole high up in the stem. */
const F = `<path d="M0 0h40v12h-28v12h20v12h-20v24h-12z"/><circle cx="6" cy="6" r="3"/>`;

describe("an asymmetric drawing", () => {
  it("lies on the sheet as it is seen, not mirrored", () => {
    const { region, roundHoles } = readOne(page(F));
    const holds = (x: number, y: number): boolean => pointInRing({ x, y }, region.outer);
    // The page is 100 mm high: the top of the F is at y 100, its foot at y 40.
    expect(holds(30, 95)).toBe(true);
    expect(holds(25, 70)).toBe(true);
    expect(holds(6, 45)).toBe(true);
    expect(holds(30, 45)).toBe(false);
    expect(holds(37, 70)).toBe(false);
    expect(roundHoles).toEqual([{ diameterMm: 6, centre: { x: 6, y: 94 } }]);
  });

  it("mirrored in the drawing is seen mirrored, with the same measures and senses", () => {
    const plain = readOne(page(F));
    const mirrored = readOne(page(`<g transform="translate(100 0) scale(-1 1)">${F}</g>`));
    expect(pointInRing({ x: 70, y: 95 }, mirrored.region.outer)).toBe(true);
    expect(pointInRing({ x: 94, y: 45 }, mirrored.region.outer)).toBe(true);
    expect(pointInRing({ x: 70, y: 45 }, mirrored.region.outer)).toBe(false);
    expect(mirrored.areaMm2).toBeCloseTo(plain.areaMm2, 9);
    expect(mirrored.cutLengthMm).toBeCloseTo(plain.cutLengthMm, 9);
    for (const { outline, holes, region } of [plain, mirrored]) {
      expect(pathArea(outline)).toBeGreaterThan(0);
      expect(ringArea(region.outer)).toBeGreaterThan(0);
      for (const hole of holes) expect(pathArea(hole)).toBeLessThan(0);
      for (const hole of region.holes) expect(ringArea(hole)).toBeLessThan(0);
    }
  });

  it("keeps the bulge of an arc on the side where it is drawn", () => {
    // In SVG, sweep 1 from left to right along the top goes over the top: a tombstone.
    const tombstone = readOne(page(`<path d="M10 40A20 20 0 0 1 50 40V80H10Z"/>`));
    expect(tombstone.areaMm2).toBeCloseTo(1600 + 200 * Math.PI, 9);
    const bitten = readOne(page(`<path d="M10 40A20 20 0 0 0 50 40V80H10Z"/>`));
    expect(bitten.areaMm2).toBeCloseTo(1600 - 200 * Math.PI, 9);
  });
});
