import { Point as FlatPoint, Segment } from "@flatten-js/core";
import * as fc from "fast-check";
import polygonClipping, { type MultiPolygon } from "polygon-clipping";
import { describe, expect, it } from "vitest";
import type { Point, Region, Ring } from "../../src/geometry/types.ts";
import { judge } from "../../src/nesting/check.ts";
import type { Nest, NestPiece, Placement } from "../../src/nesting/types.ts";
import { box, lies, nest, piece, ring, sheet } from "./pieces.ts";

/**
 * Random jobs of every kind of outline. Each nest must pass the judge, and two libraries that know
 * nothing of either: areas in common by polygon-clipping, distances by @flatten-js/core.
 */

const size = fc.integer({ min: 8, max: 60 });
const share = fc.integer({ min: 20, max: 80 }).map((percent) => percent / 100);

const rectangle = fc.tuple(size, size).map(([w, h]) => box(w, h));
const needle = fc.tuple(size, share).map(([w, thin]) => ring([0, 0], [w, thin / 4], [w, thin]));
const hook = fc
  .tuple(size, size, share, share)
  .map(([w, h, a, b]) => ring([0, 0], [w, 0], [w, h * b], [w * a, h * b], [w * a, h], [0, h]));
const comb = fc
  .tuple(size, size, share)
  .map(([w, h, a]) =>
    ring(
      [0, 0],
      [w, 0],
      [w, h],
      [w * 0.8, h],
      [w * 0.8, h * (1 - a)],
      [w * 0.6, h * (1 - a)],
      [w * 0.6, h],
      [w * 0.3, h * 0.9],
      [w * 0.3, h * (1 - a) * 0.5],
      [0, h],
    ),
  );
/** Star-shaped about its middle, with 3 to 40 corners at odd radii. */
const star = fc.tuple(size, fc.array(share, { minLength: 3, maxLength: 40 })).map(([w, radii]) =>
  radii.map((radius, i): Point => {
    const angle = (2 * Math.PI * i) / radii.length;
    return { x: w * radius * Math.cos(angle), y: w * radius * Math.sin(angle) };
  }),
);
const round = fc.tuple(size, fc.integer({ min: 24, max: 90 })).map(([w, corners]) =>
  Array.from({ length: corners }, (_, i): Point => {
    const angle = (2 * Math.PI * i) / corners;
    return { x: w + (w / 2) * Math.cos(angle), y: (w / 3) * Math.sin(angle) };
  }),
);
const plain = fc
  .oneof(rectangle, needle, hook, comb, star, round)
  .map((outer): Region => ({ outer, holes: [] }));
const framed = fc.tuple(size, size, share).map(([w, h, a]): Region => {
  const hole = box(w * a, h * a, (w * (1 - a)) / 2, (h * (1 - a)) / 3);
  return { outer: box(w, h), holes: [hole.toReversed()] };
});

const job = fc.array(
  fc.record({
    region: fc.oneof({ weight: 4, arbitrary: plain }, { weight: 1, arbitrary: framed }),
    copies: fc.integer({ min: 1, max: 4 }),
    turn: fc.constantFrom("any", "quarter", "half", "fixed"),
    flip: fc.boolean(),
    flatteningMm: fc.constantFrom(0, 0, 0.05),
  }),
  { minLength: 1, maxLength: 6 },
);

const choice = fc
  .record({
    w: fc.integer({ min: 60, max: 200 }),
    h: fc.integer({ min: 60, max: 200 }),
    gapMm: fc.constantFrom(0, 0, 0.5, 3),
    marginMm: fc.constantFrom(0, 5),
  })
  .map(({ w, h, ...more }) => sheet(w, h, more));

describe("every nest of random pieces", () => {
  it("passes the judge and the two libraries", () => {
    const counted = { placed: 0, touching: 0, pairs: 0, left: 0, refused: 0 };
    fc.assert(
      fc.property(job, choice, fc.integer({ min: 1, max: 2 }), (rows, on, steps) => {
        const pieces = rows.map((row, i): NestPiece => ({ part: `p${i}`, ...row }));
        const [tried] = nest(pieces, [on], { steps }).bySize;
        expect(judge(pieces, [on], tried!.sheets, tried!.unplaced)).toEqual([]);
        compareByLibraries(pieces, tried!, counted);
        counted.left += tried!.unplaced.length;
      }),
      { seed: 11, numRuns: 60 },
    );
    expect(counted.placed).toBeGreaterThan(300);
    expect(counted.pairs).toBeGreaterThan(600);
    expect(counted.touching).toBeGreaterThan(100);
    expect(counted.left).toBeGreaterThan(0);
    expect(counted.refused).toBeLessThan(counted.pairs / 50);
  });

  it("keeps clear of outlines that cross themselves or have holes astray, too", () => {
    let placed = 0;
    const corner = fc.tuple(fc.integer({ min: 0, max: 30 }), fc.integer({ min: 0, max: 30 }));
    const tangle = fc
      .tuple(
        fc.uniqueArray(corner, { minLength: 4, maxLength: 9, selector: String }),
        fc.array(corner, { maxLength: 1 }),
      )
      .map(([corners, at]): Region => ({
        outer: ring(...corners),
        holes: at.map(([x, y]) => box(12, 9, x, y).toReversed()),
      }));
    fc.assert(
      fc.property(fc.array(tangle, { minLength: 1, maxLength: 4 }), choice, (regions, on) => {
        const pieces = regions.map((region, i): NestPiece => ({
          ...piece(`p${i}`, region.outer, { copies: 3 }),
          region,
        }));
        // Throws when the judge finds a fault.
        const { bySize } = nest(pieces, [on]);
        placed += bySize[0]!.sheets.reduce((sum, { placements }) => sum + placements.length, 0);
      }),
      { seed: 13, numRuns: 120 },
    );
    expect(placed).toBeGreaterThan(600);
  });

  it("fills a sheet cut up by straight lines again when pieces come row by row", () => {
    let judged = 0;
    const cuts = fc.tuple(
      fc.integer({ min: 1, max: 6 }),
      fc.integer({ min: 1, max: 6 }),
      size,
      size,
    );
    fc.assert(
      fc.property(cuts, fc.constantFrom(0, 0.7), ([columns, rows, w, h], gapMm) => {
        const [width, height] = [w / 7, h / 7];
        const sheetWidth = columns * width + (columns - 1) * gapMm;
        const sheetHeight = rows * height + (rows - 1) * gapMm;
        const on = sheet(sheetWidth, sheetHeight, { gapMm });
        const tile = piece("tile", box(width, height), { copies: columns * rows, turn: "fixed" });
        expect(nest([tile], [on]).best?.sheets).toHaveLength(1);
        judged++;
      }),
      { seed: 12, numRuns: 60 },
    );
    expect(judged).toBe(60);
  });
});

interface Counted {
  placed: number;
  touching: number;
  pairs: number;
  /** Not worked out by polygon-clipping, which can not close some rings that touch. */
  refused: number;
}

function compareByLibraries(pieces: readonly NestPiece[], tried: Nest, counted: Counted): void {
  const byPart = new Map(pieces.map((each) => [each.part, each]));
  for (const { placements } of tried.sheets) {
    const lying = placements.map((placement) => ({ placement, of: byPart.get(placement.part)! }));
    counted.placed += lying.length;
    for (const [i, a] of lying.entries()) {
      for (const b of lying.slice(i + 1, i + 7)) {
        const [one, two] = [laid(a.of.region, a.placement), laid(b.of.region, b.placement)];
        const common = commonArea(one, two);
        if (common === null) counted.refused++;
        expect(common ?? 0).toBeLessThan(2e-3);
        const needed = tried.choices[0]!.gapMm + a.of.flatteningMm + b.of.flatteningMm;
        const apart = distance(one, two);
        expect(apart).toBeGreaterThan(needed - 2e-6);
        counted.pairs++;
        if (apart < needed + 1e-3) counted.touching++;
      }
    }
  }
}

function laid(region: Region, placement: Placement): readonly Ring[] {
  return [region.outer, ...region.holes].map((each) => each.map((point) => lies(point, placement)));
}

/** On a grid of a hundred-thousandth of a mm, which costs a sliver along each edge; null when refused. */
function commonArea(a: readonly Ring[], b: readonly Ring[]): number | null {
  try {
    const common = polygonClipping.intersection(snapped(a), snapped(b));
    return common.flat().reduce((sum, each) => sum + area(each), 0);
  } catch {
    return null;
  }
}

function snap(coordinate: number): number {
  return Math.round(coordinate * 1e5) / 1e5;
}

function snapped(rings: readonly Ring[]): MultiPolygon {
  return [rings.map((each) => each.map(({ x, y }) => [snap(x), snap(y)]))];
}

/** Signed: outlines of polygon-clipping run counter-clockwise, holes clockwise. */
function area(points: readonly (readonly [number, number])[]): number {
  return points.reduce((sum, [x, y], i) => {
    const [nextX, nextY] = points[(i + 1) % points.length]!;
    return sum + (x * nextY - nextX * y) / 2;
  }, 0);
}

/** Of the outlines: zero when they touch. */
function distance(a: readonly Ring[], b: readonly Ring[]): number {
  const [ofA, ofB] = [edges(a), edges(b)];
  return Math.min(...ofA.flatMap((one) => ofB.map((two) => one.distanceTo(two)[0])));
}

function edges(rings: readonly Ring[]): readonly Segment[] {
  return rings.flatMap((each) =>
    each.map(({ x, y }, i) => {
      const next = each[(i + 1) % each.length]!;
      return new Segment(new FlatPoint(x, y), new FlatPoint(next.x, next.y));
    }),
  );
}
