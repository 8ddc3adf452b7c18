import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { PlacedPath } from "../../src/drawing/drawn-line.ts";
import { joined } from "../../src/drawing/join.ts";
import { JOIN_MM } from "../../src/drawing/weld.ts";
import { pathEnd, pathLength, polylinePath } from "../../src/geometry/path.ts";
import { distance } from "../../src/geometry/point.ts";
import type { Point } from "../../src/geometry/types.ts";

function loose(from: Point, to: Point, line: number): PlacedPath {
  return { path: polylinePath([from, to], false), place: { file: "a.dxf", line, column: null } };
}

/** Corners on a grid of 10 mm, each end up to 0.02 mm off, so that gaps are joined or plainly not. */
const line = fc
  .record({
    a: fc.integer({ min: 0, max: 8 }),
    b: fc.integer({ min: 0, max: 8 }),
    off: fc.array(fc.integer({ min: -20, max: 20 }), { minLength: 4, maxLength: 4 }),
  })
  .filter(({ a, b }) => a !== b)
  .map(({ a, b, off: [ax = 0, ay = 0, bx = 0, by = 0] }) => ({
    from: corner(a, ax, ay),
    to: corner(b, bx, by),
  }));

function corner(index: number, dx: number, dy: number): Point {
  return { x: (index % 3) * 10 + dx / 1000, y: Math.floor(index / 3) * 10 + dy / 1000 };
}

describe("joining loose lines", () => {
  it("takes the nearest of all waiting ends each time, as a search through all of them does", () => {
    let together = 0;
    const property = fc.property(fc.array(line, { minLength: 1, maxLength: 14 }), (lines) => {
      const drawn = lines.map(({ from, to }, index) => loose(from, to, index + 1));
      const chains = joined(drawn);
      expect(chains.map(({ place }) => place.line)).toEqual(
        searched(drawn).map(([first]) => first),
      );
      const sizes = searched(drawn).map(([, size]) => size);
      for (const [index, { path }] of chains.entries())
        expect(Math.abs(pathLength(path) - (sizes[index] ?? 0))).toBeLessThan(1);
      together += drawn.length - chains.length;
    });
    fc.assert(property, { seed: 20261125, numRuns: 400 });
    expect(together).toBeGreaterThan(1000);
  });

  it("of 20,000 sides in any order makes one closed contour in about a second", () => {
    const count = 20_000;
    const at = (index: number): Point => {
      const angle = (2 * Math.PI * (index % count)) / count;
      return { x: 1000 * Math.cos(angle), y: 1000 * Math.sin(angle) };
    };
    // 7919 is a prime, so that every side comes once.
    const sides = Array.from({ length: count }, (_, index) => {
      const side = (index * 7919) % count;
      return side % 3 === 0
        ? loose(at(side + 1), at(side), index)
        : loose(at(side), at(side + 1), index);
    });
    const chains = joined(sides);
    expect(chains).toHaveLength(1);
    expect(chains[0]?.path.closed).toBe(true);
    expect(chains[0] && pathLength(chains[0].path)).toBeCloseTo(2000 * Math.PI, 3);
  });
});

/** The rule in its plainest form, on ends alone: first line and length of each chain. */
function searched(lines: readonly PlacedPath[]): (readonly [number | null, number])[] {
  const waiting = lines.map(({ path, place }) => ({
    ends: [path.start, pathEnd(path)] as const,
    line: place.line,
    mm: pathLength(path),
  }));
  const chains: (readonly [number | null, number])[] = [];
  for (let first = waiting.shift(); first !== undefined; first = waiting.shift()) {
    let [start, end] = first.ends;
    let mm = first.mm;
    for (const _ of ["ahead", "back"]) {
      for (;;) {
        if (distance(start, end) <= JOIN_MM) break;
        const gaps = waiting.map(({ ends }) =>
          Math.min(...ends.map((each) => distance(end, each))),
        );
        const least = Math.min(...gaps);
        if (!(least <= JOIN_MM)) break;
        const [next] = waiting.splice(gaps.indexOf(least), 1);
        if (next === undefined) break;
        end =
          distance(end, next.ends[1]) < distance(end, next.ends[0]) ? next.ends[0] : next.ends[1];
        mm += next.mm;
      }
      [start, end] = [end, start];
    }
    chains.push([first.line, mm]);
  }
  return chains;
}
