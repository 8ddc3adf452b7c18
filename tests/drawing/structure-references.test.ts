import { Point as ReferencePoint, Polygon, Segment, point } from "@flatten-js/core";
import polygonClipping from "polygon-clipping";
import { svgPathProperties } from "svg-path-properties";
import { expect, it } from "vitest";
import { page, readOne } from "./reading.ts";

/**
 * Thirty-six drawings whose lines come by way of symbols, copies, inner frames, percentages, style
 * sheets and transforms, each against polygons through 200 points of every piece of curve, found by
 * svg-path-properties and measured by @flatten-js/core and polygon-clipping.
 */
const DRAWINGS = Array.from({ length: 36 }, (_, index) => drawing(index));

const WAYS: readonly ((lines: string) => string)[] = [
  (lines) =>
    `<symbol id="s" viewBox="0 0 200 100">${lines}</symbol><use href="#s" width="100" height="50"/>`,
  (lines) =>
    `<defs><g id="g">${lines}</g></defs><use xlink:href="#g" x="400" transform="scale(.5)"/>`,
  (lines) => `<svg x="10%" width="50%" height="100%" viewBox="0 0 200 100">${lines}</svg>`,
  (lines) =>
    `<style>.away{display:none} path{fill:none;stroke:#123}</style><circle r="9" class="away"/><g transform="matrix(0 .5 -.5 0 100 0)">${lines}</g>`,
  (lines) =>
    `<svg width="400" height="50" preserveAspectRatio="xMaxYMin" viewBox="0 0 200 100" overflow="visible">${lines}</svg>`,
  (lines) =>
    `<switch><g><a><g transform="translate(50 50) rotate(30) scale(-.5 .5)">${lines}</g></a></g></switch>`,
];

/** All of them halve. */
const SCALE = 0.5;

it("lengths and areas are those of two libraries, however the lines come in", () => {
  const worst = { length: 0, perimeter: 0, arcs: 0, area: 0, clipped: 0 };
  for (const [index, { outline, hole }] of DRAWINGS.entries()) {
    const way = WAYS[index % WAYS.length];
    const { areaMm2, cutLengthMm } = readOne(page(way?.(`<path d="${outline} ${hole}"/>`) ?? ""));
    const rings = [outline, hole].map(ringThrough);
    const lengths = [outline, hole].map((d) => new svgPathProperties(d).getTotalLength());
    const differ = (kind: keyof typeof worst, ours: number, theirs: number): void => {
      worst[kind] = Math.max(worst[kind], Math.abs(ours / theirs - 1));
    };
    const hasArcs = outline.includes("A");
    differ(hasArcs ? "arcs" : "length", cutLengthMm / SCALE, sum(lengths));
    differ(hasArcs ? "arcs" : "perimeter", cutLengthMm / SCALE, sum(rings.map(perimeter)));
    const [whole = 0, bore = 0] = rings.map((ring) => polygon(ring).area());
    differ("area", areaMm2 / SCALE ** 2, whole - bore);
    const [outer = [], inner = []] = rings;
    const left = polygonClipping.difference([outer], [inner]);
    differ("clipped", areaMm2 / SCALE ** 2, sum(left.map((one) => netArea(one))));
  }
  expect(worst.length).toBeLessThan(1e-11);
  expect(worst.arcs).toBeLessThan(1e-5);
  // Points on curves are found by trial, and their zigzag adds this much.
  expect(worst.perimeter).toBeLessThan(3e-5);
  expect(worst.area).toBeLessThan(3e-5);
  expect(worst.clipped).toBeLessThan(3e-5);
});

/** Chords so short leave out about 1e-5 of a curve's area. */
const STEPS = 200;

type Ring = [number, number][];

function sum(values: readonly number[]): number {
  return values.reduce((all, value) => all + value, 0);
}

/** Points on every piece of a closed path, from a library that knows nothing of our flattening. */
function ringThrough(d: string): Ring {
  return new svgPathProperties(d).getParts().flatMap((part) =>
    Array.from({ length: STEPS }, (_, step): [number, number] => {
      const { x, y } = part.getPointAtLength((part.length * step) / STEPS);
      return [x, y];
    }),
  );
}

function polygon(ring: Ring): Polygon {
  return new Polygon(ring.map(([x, y]) => point(x, y)));
}

function perimeter(ring: Ring): number {
  return sum(
    ring.map(([x, y], index) => {
      const [nextX, nextY] = ring[(index + 1) % ring.length] ?? [x, y];
      return new Segment(new ReferencePoint(x, y), new ReferencePoint(nextX, nextY)).length;
    }),
  );
}

/** Of a polygon with holes, by the surveyor's formula. */
function netArea(rings: readonly (readonly (readonly [number, number])[])[]): number {
  const areas = rings.map((ring) =>
    Math.abs(
      sum(
        ring.map(([x, y], index) => {
          const [nextX, nextY] = ring[(index + 1) % ring.length] ?? [x, y];
          return (x * nextY - nextX * y) / 2;
        }),
      ),
    ),
  );
  return 2 * (areas[0] ?? 0) - sum(areas);
}

interface Drawing {
  readonly outline: string;
  readonly hole: string;
}

/** A wavy star about 100,50 of 5 to 10 corners, and a hole in its middle. */
function drawing(index: number): Drawing {
  const corners = 5 + (index % 6);
  const kind = Math.floor(index / 6) % 4;
  const radius = (corner: number): number => 30 + (((corner % corners) * (index + 2)) % 9);
  const steps = Array.from({ length: corners }, (_, corner) => {
    const [from, to] = [corner / corners, (corner + 1) / corners];
    const end = at(to, radius(corner + 1));
    if (kind === 0) return `L${end}`;
    if (kind === 1) return `Q${at((from + to) / 2, 43)} ${end}`;
    if (kind === 2) return `C${at(from + 0.03, 38)} ${at(to - 0.03, 42)} ${end}`;
    return `A${50 + index} ${40 + corner} ${11 * corner} 0 1 ${end}`;
  });
  const hole = index % 2 === 0 ? "M95 50h10v6h-10z" : "M95 50c2-4 8-4 10 0s-2 8-5 8-7-4-5-8z";
  return { outline: `M${at(0, radius(0))}${steps.join("")}Z`, hole };
}

/** A point about 100,50 at a share of the turn. */
function at(turn: number, radius: number): string {
  const angle = 2 * Math.PI * turn;
  return `${(100 + radius * Math.cos(angle)).toFixed(4)} ${(50 + radius * Math.sin(angle)).toFixed(4)}`;
}
