import polygonClipping, { type Polygon } from "polygon-clipping";
import { describe, expect, it } from "vitest";
import { poseRing } from "../../../src/geometry/pose.ts";
import { boundsOf, ringArea } from "../../../src/geometry/ring.ts";
import type { Point, Ring } from "../../../src/geometry/types.ts";
import { judge } from "../../../src/nesting/check.ts";
import { jigsawSearch } from "../../../src/nesting/jigsaw/search.ts";
import { outlineOf } from "../../../src/nesting/outline.ts";
import { randomFrom, type Random } from "../../../src/random.ts";
import { triedOf } from "../../../src/nesting/tried.ts";
import type { NestPiece, SheetChoice } from "../../../src/nesting/types.ts";
import { box, lies, nest, piece, ring, sheet } from "../pieces.ts";

/**
 * Sheets are cut up along lines between whole numbers, the pieces turned and shuffled: by that they
 * fill as many sheets again.
 */

function whole(random: Random, from: number, to: number): number {
  return from + Math.floor(random() * (to - from + 1));
}

/** A whole-numbered point on an edge, which may be its end. */
function pointOn(a: Point, b: Point, random: Random): Point {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const steps = common(Math.abs(dx), Math.abs(dy));
  const step = whole(random, 0, steps - 1);
  return { x: a.x + (dx / steps) * step, y: a.y + (dy / steps) * step };
}

function common(a: number, b: number): number {
  return b === 0 ? a : common(b, a % b);
}

/** In two, from edge to edge, now and then with a bend; null where that leaves slivers. */
function cut(outer: Ring, random: Random): readonly [Ring, Ring] | null {
  const [one, other] = [whole(random, 0, outer.length - 1), whole(random, 0, outer.length - 1)];
  const [i, j] = [Math.min(one, other), Math.max(one, other)];
  if (i === j) return null;
  const from = pointOn(outer[i]!, outer[(i + 1) % outer.length]!, random);
  const to = pointOn(outer[j]!, outer[(j + 1) % outer.length]!, random);
  const { minX, minY, maxX, maxY } = boundsOf(outer);
  const bend = { x: whole(random, minX, maxX), y: whole(random, minY, maxY) };
  const isBent = random() < 0.25 && polygonContains(outer, bend);
  const way = isBent ? [bend] : [];
  const tidy = [
    [from, ...outer.slice(i + 1, j + 1), to, ...way],
    [to, ...outer.slice(j + 1), ...outer.slice(0, i + 1), from, ...way],
  ].map((half) => withoutTwins(half));
  const areas = tidy.map((half) => ringArea(half));
  const isSound = tidy.every((half) => half.length >= 3) && Math.min(...areas) > 150;
  const sum = areas.reduce((total, area) => total + area, 0);
  return isSound && Math.abs(sum - ringArea(outer)) < 1e-9 ? [tidy[0]!, tidy[1]!] : null;
}

function withoutTwins(points: Ring): Ring {
  return points.filter((a, index) => {
    const b = points.at(index - 1)!;
    return a.x !== b.x || a.y !== b.y;
  });
}

/** Strictly, of a convex outline. */
function polygonContains(outer: Ring, { x, y }: Point): boolean {
  return outer.every((a, index) => {
    const b = outer[(index + 1) % outer.length]!;
    return (b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x) > 0;
  });
}

function isConvex(outer: Ring): boolean {
  return outer.every((b, index) => {
    const [a, c] = [outer.at(index - 1)!, outer[(index + 1) % outer.length]!];
    return (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x) >= 0;
  });
}

function cutUp(width: number, height: number, count: number, random: Random): readonly Ring[] {
  let rings: readonly Ring[] = [box(width, height)];
  for (let time = 0; rings.length < count && time < 500; time++) {
    const which = whole(random, 0, rings.length - 1);
    const halves = isConvex(rings[which]!) ? cut(rings[which]!, random) : null;
    if (halves !== null) rings = rings.toSpliced(which, 1, ...halves);
  }
  return rings;
}

function shuffled(rings: readonly Ring[], random: Random): readonly NestPiece[] {
  return rings
    .map((outer) => ({ outer, lot: random() }))
    .sort((a, b) => a.lot - b.lot)
    .map(({ outer }, index) => {
      const turnDeg = 90 * whole(random, 0, 3);
      const turned = poseRing({ mirrored: false, turnDeg, xMm: 0, yMm: 0 }, outer);
      return piece(
        `p${index}`,
        turned.map(({ x, y }) => ({ x: Math.round(x), y: Math.round(y) })),
      );
    });
}

/** Where the search has laid all, null when it has not in so many looks. */
function found(pieces: readonly NestPiece[], choice: SheetChoice, most: number) {
  const outlines = pieces.map(outlineOf);
  const search = jigsawSearch(outlines, choice, 1);
  if (search === null) return null;
  const work = search.go(most);
  let turn = work.next();
  while (turn.done !== true) turn = work.next();
  if (turn.value === null) return null;
  return triedOf(outlines, [choice], { sheets: turn.value, unplaced: [] }).nest;
}

describe("pieces that whole sheets were cut into", () => {
  it("fill as many sheets again, by the judge and by polygon-clipping", () => {
    const counted = { jigsaws: 0, pieces: 0, bent: 0, slanted: 0 };
    const random = randomFrom(11);
    for (let time = 0; time < 40; time++) {
      const [width, height] = [whole(random, 60, 160), whole(random, 60, 160)];
      const sheets = whole(random, 1, 3);
      const rings = Array.from({ length: sheets }, () =>
        cutUp(width, height, whole(random, 4, 9), random),
      ).flat();
      const pieces = shuffled(rings, random);
      const choice = sheet(width, height);
      const laid = found(pieces, choice, 400_000);
      expect(laid?.sheets, `jigsaw ${time}`).toHaveLength(sheets);
      expect(judge(pieces, [choice], laid!.sheets, [])).toEqual([]);
      expect(coveredMm2(pieces, laid!.sheets)).toBeCloseTo(sheets * width * height, 3);
      counted.jigsaws++;
      counted.pieces += pieces.length;
      counted.bent += rings.filter((outer) => !isConvex(outer)).length;
      counted.slanted += rings.filter((outer) =>
        outer.some((a, index) => {
          const b = outer[(index + 1) % outer.length]!;
          return a.x !== b.x && a.y !== b.y;
        }),
      ).length;
    }
    expect(counted.jigsaws).toBe(40);
    expect(counted.pieces).toBeGreaterThan(350);
    expect(counted.bent).toBeGreaterThan(30);
    expect(counted.slanted).toBeGreaterThan(200);
  });

  it("are looked for by the nest itself", () => {
    const random = randomFrom(4);
    const pieces = shuffled(cutUp(100, 80, 9, random), random);
    const { best } = nest(pieces, [sheet(100, 80), sheet(100, 90)], { steps: 2 });
    expect(best!.sheets).toHaveLength(1);
    expect(best!.utilisation).toBeCloseTo(1, 9);
  });
});

describe("what is no jigsaw", () => {
  const halves = [
    piece("a", ring([0, 0], [100, 0], [60, 50], [0, 50])),
    piece("b", ring([100, 0], [100, 50], [60, 50])),
  ];
  const whole50 = sheet(100, 50);

  it.each([
    ["with a gap", halves, { ...whole50, gapMm: 1 }],
    ["with a margin", halves, { ...whole50, marginMm: 1 }],
    ["of other areas", halves, sheet(101, 50)],
    ["off every grid", [...halves, piece("c", box(Math.PI, 5000 / Math.PI))], whole50],
    [
      "with holes",
      halves.map((one) => ({ ...one, region: { ...one.region, holes: [box(1, 1, 20, 20)] } })),
      whole50,
    ],
    ["with curves", halves.map((one) => ({ ...one, flatteningMm: 0.05 })), whole50],
  ] as const)("%s is not looked for", (_, pieces, choice) => {
    expect(jigsawSearch(pieces.map(outlineOf), choice, 1)).toBeNull();
  });

  it("though the areas are right ends without a nest", () => {
    // Three of 60 x 20 and one of 40 x 35 are 100 x 50 together, and no way leads to it.
    const pieces = [piece("a", box(60, 20), { copies: 3 }), piece("b", box(40, 35))];
    expect(found(pieces, whole50, 400_000)).toBeNull();
  });
});

/** Of all sheets together, by the union of what lies on each. */
function coveredMm2(
  pieces: readonly NestPiece[],
  sheets: NonNullable<ReturnType<typeof found>>["sheets"],
): number {
  return sheets.reduce((sum, { placements }) => {
    const all = placements.map((placement): Polygon => {
      const { outer } = pieces.find(({ part }) => part === placement.part)!.region;
      return [
        outer.map((point) => {
          const { x, y } = lies(point, placement);
          return [Math.round(x), Math.round(y)];
        }),
      ];
    });
    const [first, ...others] = all;
    const union = polygonClipping.union(first!, ...others);
    const rings = union.flat().map((points) => points.slice(1).map(([x, y]) => ({ x, y })));
    return sum + rings.reduce((total, points) => total + ringArea(points), 0);
  }, 0);
}
