import { Polygon, point } from "@flatten-js/core";
import polygonClipping from "polygon-clipping";
import { svgPathProperties } from "svg-path-properties";
import { describe, expect, it } from "vitest";
import { flattenPath } from "../../src/geometry/flatten.ts";
import type { Ring } from "../../src/geometry/types.ts";
import { ellipseLength } from "../geometry/closed-forms.ts";
import { page, readOne } from "./reading.ts";

/** Forty drawings, each an outline with a hole, with lines, cubics, quadratics and arcs. */
const DRAWINGS = Array.from({ length: 40 }, (_, index) => drawing(index));

describe("forty generated drawings", () => {
  it("have the lengths of svg-path-properties, as far as its fixed steps reach", () => {
    for (const { outline, hole, hasArcs } of DRAWINGS) {
      const read = readOne(page(`<path d="${outline} ${hole}"/>`));
      const reference =
        new svgPathProperties(outline).getTotalLength() +
        new svgPathProperties(hole).getTotalLength();
      // Its cubics are good to about 1e-6 here, its elliptical arcs to 1e-3.
      const accuracy = hasArcs ? 2e-3 : 1e-6;
      expect(Math.abs(read.cutLengthMm / reference - 1)).toBeLessThan(accuracy);
    }
  });

  it("have the areas of their finely flattened polygons by @flatten-js/core", () => {
    for (const { outline, hole } of DRAWINGS) {
      const read = readOne(page(`<path d="${outline} ${hole}"/>`));
      const fine = [read.outline, ...read.holes].map((path) => flattenPath(path, 1e-4));
      const [whole = 0, bore = 0] = fine.map((ring) => polygonArea(ring));
      expect(Math.abs(read.areaMm2 - (whole - bore))).toBeLessThan(1e-4 * read.cutLengthMm);
    }
  });

  it("have regions whose difference by polygon-clipping has the region's area", () => {
    for (const { outline, hole } of DRAWINGS.slice(0, 12)) {
      const { region, areaMm2, cutLengthMm, flatteningMm } = readOne(
        page(`<path d="${outline} ${hole}"/>`),
      );
      const left = polygonClipping.difference(
        [pairs(region.outer)],
        [pairs(region.holes[0] ?? [])],
      );
      const area = left
        .flat()
        .reduce((sum, ring, index) => sum + (index === 0 ? 1 : -1) * Math.abs(shoelace(ring)), 0);
      expect(Math.abs(area - areaMm2)).toBeLessThan(flatteningMm * cutLengthMm + 1e-6);
    }
  });
});

describe("closed formulas", () => {
  it("hold for circles, ellipses and rounded rectangles of twelve sizes each", () => {
    for (let size = 1; size <= 12; size++) {
      const [a, b] = [4 * size, 3 + size];
      const circle = readOne(page(`<circle cx="100" cy="50" r="${a}"/>`));
      expect(circle.cutLengthMm).toBeCloseTo(2 * Math.PI * a, 9);
      expect(circle.areaMm2).toBeCloseTo(Math.PI * a * a, 8);
      const ellipse = readOne(page(`<ellipse cx="100" cy="50" rx="${a}" ry="${b}"/>`));
      expect(Math.abs(ellipse.cutLengthMm / ellipseLength(a, b) - 1)).toBeLessThan(1e-7);
      expect(Math.abs(ellipse.areaMm2 / (Math.PI * a * b) - 1)).toBeLessThan(1e-7);
      const rounded = readOne(
        page(`<rect x="3" y="4" width="${10 * size}" height="${5 * size}" rx="${size}"/>`),
      );
      expect(rounded.cutLengthMm).toBeCloseTo(30 * size - (8 - 2 * Math.PI) * size, 9);
      expect(rounded.areaMm2).toBeCloseTo(50 * size * size - (4 - Math.PI) * size * size, 8);
    }
  });

  it("hold for a rectangle with elliptical corners, whose radii stop at half of its sides", () => {
    const rounded = readOne(page(`<rect width="100" height="60" rx="20" ry="10"/>`));
    expect(rounded.cutLengthMm).toBeCloseTo(120 + 80 + ellipseLength(20, 10), 4);
    expect(rounded.areaMm2).toBeCloseTo(6000 - 800 + 200 * Math.PI, 4);
    const stopped = readOne(page(`<rect width="100" height="60" ry="90" rx="90"/>`));
    expect(stopped.cutLengthMm).toBeCloseTo(ellipseLength(50, 30), 4);
  });

  it("hold for a parabola's segment drawn as a quadratic curve: two thirds of its box", () => {
    const segment = readOne(page(`<path d="M10 10Q60 90 110 10Z"/>`));
    expect(segment.areaMm2).toBeCloseTo((2 / 3) * 100 * 40, 9);
  });
});

interface Drawing {
  readonly outline: string;
  readonly hole: string;
  readonly hasArcs: boolean;
}

/** A wavy star about 100,50 of 6 to 12 corners, and a small hole in its middle. */
function drawing(index: number): Drawing {
  const corners = 6 + (index % 7);
  const command = ["L", "Q", "C", "A"][index % 4] ?? "L";
  const radius = (corner: number): number => 32 + ((corner * (index + 3)) % 11);
  const steps = Array.from({ length: corners }, (_, corner) => {
    const next = (corner + 1) % corners;
    const [from, to] = [corner / corners, (corner + 1) / corners];
    const end = at(to, radius(next));
    if (command === "L") return `L${end}`;
    if (command === "Q") return `Q${at((from + to) / 2, 44)} ${end}`;
    if (command === "C") return `C${at(from + 0.02, 40)} ${at(to - 0.02, 44)} ${end}`;
    return `A${40 + index} ${30 + corner} ${7 * corner} 0 1 ${end}`;
  });
  const hole = index % 2 === 0 ? "M95 50h10v6h-10z" : "M95 50c2-4 8-4 10 0s-2 8-5 8-7-4-5-8z";
  return { outline: `M${at(0, radius(0))}${steps.join("")}Z`, hole, hasArcs: command === "A" };
}

/** A point about 100,50 at a share of the turn. */
function at(turn: number, radius: number): string {
  const angle = 2 * Math.PI * turn;
  return `${(100 + radius * Math.cos(angle)).toFixed(4)} ${(50 + radius * Math.sin(angle)).toFixed(4)}`;
}

function polygonArea(ring: Ring): number {
  return new Polygon(ring.map(({ x, y }) => point(x, y))).area();
}

function pairs(ring: Ring): [number, number][] {
  return ring.map(({ x, y }) => [x, y]);
}

function shoelace(ring: readonly (readonly [number, number])[]): number {
  return ring.reduce((sum, [x, y], index) => {
    const [nextX, nextY] = ring[(index + 1) % ring.length] ?? [0, 0];
    return sum + (x * nextY - nextX * y) / 2;
  }, 0);
}
