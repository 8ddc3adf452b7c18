import * as fc from "fast-check";
import polygonClipping, { type Polygon } from "polygon-clipping";
import { describe, expect, it } from "vitest";
import type { Point, Ring } from "../../src/geometry/types.ts";
import { judge } from "../../src/nesting/check.ts";
import { coveringParts } from "../../src/nesting/simplify.ts";
import type { Nest, NestOutcome, NestPiece, SheetChoice } from "../../src/nesting/types.ts";
import { box, nest, piece, roll, sheet } from "./pieces.ts";

/** Outlines of very many points, lists in any order, rolls longer than a bed. */

/** Points around 0,0 at a distance that depends on the angle. */
function around(count: number, radiusAt: (turns: number) => number): Ring {
  return Array.from({ length: count }, (_, index): Point => {
    const angle = (2 * Math.PI * index) / count;
    const radius = radiusAt(index / count);
    return { x: radius * Math.cos(angle), y: radius * Math.sin(angle) };
  });
}

/** Four points a tooth. */
const GEAR = around(4000, (turns) => ((turns * 1000) % 1 < 0.5 ? 90 : 87));
const WAVY = around(3000, (turns) => 80 + 6 * Math.sin(2 * Math.PI * 40 * turns));
const COMB = [
  ...box(300, 4).slice(0, 2),
  ...Array.from({ length: 400 }, (_, index): Point[] => {
    const x = 300 - index * 0.75;
    return [
      { x, y: 20 },
      { x: x - 0.4, y: 20 },
      { x: x - 0.4, y: 4 },
      { x: x - 0.75, y: 4 },
    ];
  }).flat(),
];

function polygon(points: Iterable<Point>): Polygon {
  return [[...points].map(({ x, y }) => [x, y])];
}

function areaOf(rings: ReturnType<typeof polygonClipping.union>): number {
  return rings.flat().reduce((sum, ring) => {
    const twice = ring.reduce((part, [x, y], i) => {
      const [nextX, nextY] = ring[(i + 1) % ring.length]!;
      return part + x * nextY - nextX * y;
    }, 0);
    return sum + twice / 2;
  }, 0);
}

describe("an outline of thousands of points", () => {
  it.each([
    ["a gear", GEAR],
    ["a wavy edge", WAVY],
    ["a comb", COMB],
  ])("is covered by few convex parts: %s", (_, outer) => {
    const parts = coveringParts({ outer, holes: [] });
    expect(parts.length).toBeLessThanOrEqual(64);
    // By polygon-clipping: nothing of the outline lies outside of the parts.
    const [first, ...others] = parts.map((part) => polygon(part));
    const covered = polygonClipping.union(first!, ...others);
    const lost = polygonClipping.difference(polygon(outer), covered);
    expect(Math.abs(areaOf(lost))).toBeLessThan(1e-6);
  });

  it("is nested in all its copies, and judged by its true outline", () => {
    const pieces = [
      piece("gear", GEAR, { copies: 6, turn: "any" }),
      piece("wave", WAVY, { copies: 4, turn: "any" }),
      piece("comb", COMB, { copies: 4 }),
    ];
    const choice = sheet(1220, 610, { marginMm: 8, gapMm: 2 });
    const { best } = nest(pieces, [choice]);
    expect(best?.unplaced).toEqual([]);
    expect(judge(pieces, [choice], best!.sheets, [])).toEqual([]);
  });
});

describe("the order of the parts list", () => {
  it("makes no difference, for parts of equal area too", () => {
    const list: readonly NestPiece[] = [
      piece("strip", box(120, 20), { copies: 4 }),
      piece("plate", box(60, 40), { copies: 5 }),
      piece("other plate", box(40, 60), { copies: 3 }),
      piece("square", box(49, 49), { copies: 4 }),
      piece(
        "wedge",
        [
          { x: 0, y: 0 },
          { x: 80, y: 0 },
          { x: 0, y: 60 },
        ],
        { copies: 3 },
      ),
    ];
    const choices = [sheet(300, 200, { gapMm: 2, marginMm: 5 })];
    const expected = placesOf(nest(list, choices, { steps: 2 }));
    let judged = 0;
    fc.assert(
      fc.property(fc.shuffledSubarray([...list], { minLength: list.length }), (shuffled) => {
        expect(placesOf(nest(shuffled, choices, { steps: 2 }))).toEqual(expected);
        judged++;
      }),
      { seed: 4, numRuns: 12 },
    );
    expect(judged).toBe(12);
  });
});

/** Where copies of which part lie, whichever copy. */
function placesOf({ best }: NestOutcome): readonly string[] {
  return best!.sheets
    .flatMap(({ placements }, index) =>
      placements.map(({ part, turnDeg, xMm, yMm }) => `${index} ${part} ${turnDeg} ${xMm} ${yMm}`),
    )
    .toSorted();
}

/** Of roll, mm. */
function bought({ sheets }: Nest): number {
  return sheets.reduce((sum, { heightMm }) => sum + heightMm, 0);
}

describe("a roll longer than the bed", () => {
  const pieces = [piece("strip", box(280, 90), { copies: 12 })];
  const lengths = (most: Partial<SheetChoice>): Nest =>
    nest(pieces, [roll(300, { gapMm: 2, marginMm: 5, ...most })]).best!;

  it("is worked in lengths that the bed takes, each a layout of its own", () => {
    const whole = lengths({});
    expect(whole.sheets).toHaveLength(1);
    const cut = lengths({ longestMm: 400 });
    expect(cut.sheets.length).toBeGreaterThan(1);
    for (const { heightMm } of cut.sheets) expect(heightMm).toBeLessThanOrEqual(400);
    expect(cut.sheets.flatMap(({ placements }) => placements)).toHaveLength(12);
    expect(cut.unplaced).toEqual([]);
    // What is bought is the lengths together, never less than in one.
    expect(bought(cut)).toBeGreaterThanOrEqual(bought(whole));
    expect(cut.sheetCost.toNumber()).toBeCloseTo((10 * bought(cut)) / 1000, 9);
  });

  it("ends where there is no more of it", () => {
    const short = nest(pieces, [roll(300, { marginMm: 5, longestMm: 400, onHand: 0.5 })]);
    const [only] = short.bySize;
    expect(only?.sheets.reduce((sum, { heightMm }) => sum + heightMm, 0)).toBeLessThanOrEqual(500);
    expect(only?.unplaced.length).toBe(1);
  });
});
