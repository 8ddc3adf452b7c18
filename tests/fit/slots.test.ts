import { assert, double, integer, nat, property } from "fast-check";
import { describe, expect, it } from "vitest";
import { slotsOf } from "../../src/fit/slots.ts";
import { circlePath, polylinePath, reversePath } from "../../src/geometry/path.ts";
import type { Path, Point, Segment } from "../../src/geometry/types.ts";

const ANY = { lowMm: 2, highMm: 8 };

function polygon(...points: readonly (readonly [number, number])[]): Path {
  const [first, ...rest] = points.map(([x, y]) => ({ x, y }));
  if (first === undefined) throw new RangeError("no points");
  return polylinePath([first, ...rest], true);
}

/** 100 x 40 with a notch from above at x = 50. */
function notched(
  width: number,
  depth: number,
  floor: readonly (readonly [number, number])[],
): Path {
  const [left, right] = [50 - width / 2, 50 + width / 2];
  return polygon(
    [0, 0],
    [100, 0],
    [100, 40],
    [right, 40],
    [right, 40 - depth],
    ...floor,
    [left, 40 - depth],
    [left, 40],
    [0, 40],
  );
}

describe("a notch", () => {
  it("is as wide as its walls stand apart and as long as they face each other", () => {
    expect(slotsOf([notched(3, 20, [])], ANY)).toEqual([
      { widthMm: 3, lengthMm: 20, at: { x: 50, y: 30 }, open: true },
    ]);
  });

  it("may have relieved corners, a pointed floor or a round one", () => {
    const relieved = notched(3, 20, [
      [52.5, 20],
      [52.5, 19],
      [51, 19],
      [49, 19],
      [47.5, 19],
      [47.5, 20],
    ]);
    const pointed = notched(3, 20, [[50, 18.5]]);
    const round: Path = {
      ...notched(3, 20, []),
      segments: notched(3, 20, []).segments.map((segment, index): Segment => {
        if (index !== 4) return segment;
        const centre = { x: 50, y: 20 };
        return { kind: "arc", to: segment.to, centre, sweepRad: -Math.PI };
      }),
    };
    for (const contour of [relieved, pointed, round])
      expect(slotsOf([contour], ANY)).toMatchObject([{ widthMm: 3, lengthMm: 20, open: true }]);
  });

  it("is none when its walls taper, stand too far apart or hardly face each other", () => {
    const taper = polygon(
      [0, 0],
      [100, 0],
      [100, 40],
      [53, 40],
      [51, 20],
      [49, 20],
      [47, 40],
      [0, 40],
    );
    expect(slotsOf([taper], ANY)).toEqual([]);
    expect(slotsOf([notched(9, 20, [])], ANY)).toEqual([]);
    expect(slotsOf([notched(5, 3, [])], ANY)).toEqual([]);
  });

  it("is none where material stands between the walls: a tongue, a tooth between two gaps", () => {
    const tongue = polygon(
      [0, 0],
      [40, 0],
      [40, 20],
      [23, 20],
      [23, 40],
      [20, 40],
      [20, 20],
      [0, 20],
    );
    expect(slotsOf([tongue], ANY)).toEqual([]);
    const comb = polygon(
      ...([
        [0, 0],
        [60, 0],
        [60, 20],
        [8, 20],
        [8, 15],
        [6, 15],
        [6, 20],
        [4, 20],
        [4, 15],
        [2, 15],
        [2, 20],
        [0, 20],
      ] as const),
    );
    // Two gaps 2 mm wide, not one 6 mm wide from the first wall to the last.
    expect(slotsOf([comb], ANY).map(({ widthMm }) => widthMm)).toEqual([2, 2]);
  });
});

describe("a slot inside", () => {
  const plate = polygon([0, 0], [100, 0], [100, 60], [0, 60]);

  it("is met once, closed at both ends", () => {
    const slot = reversePath(polygon([20, 20], [50, 20], [50, 23], [20, 23]));
    expect(slotsOf([plate, slot], ANY)).toEqual([
      { widthMm: 3, lengthMm: 30, at: { x: 35, y: 21.5 }, open: false },
    ]);
  });

  it("is one between the longer walls where a sheet fits both ways, also in a square hole", () => {
    for (const [w, h, lengthMm] of [
      [3, 3, 3],
      [3, 3.4, 3.4],
      [3.4, 3, 3.4],
    ] as const) {
      const hole = reversePath(polygon([20, 20], [20 + w, 20], [20 + w, 20 + h], [20, 20 + h]));
      const [slot, ...more] = slotsOf([plate, hole], ANY);
      expect(more).toEqual([]);
      expect(slot?.lengthMm).toBeCloseTo(lengthMm, 9);
      expect(slot?.widthMm).toBeCloseTo(3, 9);
    }
  });

  it("may have round ends", () => {
    const start = { x: 20, y: 20 };
    const round = reversePath({
      start,
      closed: true,
      segments: [
        { kind: "line", to: { x: 50, y: 20 } },
        { kind: "arc", to: { x: 50, y: 23 }, centre: { x: 50, y: 21.5 }, sweepRad: Math.PI },
        { kind: "line", to: { x: 20, y: 23 } },
        { kind: "arc", to: start, centre: { x: 20, y: 21.5 }, sweepRad: Math.PI },
      ],
    });
    expect(slotsOf([round], ANY)).toMatchObject([{ widthMm: 3, lengthMm: 30, open: false }]);
  });

  it("is none when it is round", () => {
    expect(slotsOf([plate, reversePath(circlePath({ x: 30, y: 30 }, 1.5))], ANY)).toEqual([]);
  });

  it("holds a crossed pair of sheets in four arms", () => {
    const arm = 1.5;
    const cross = polygon(
      ...([
        [10, -arm],
        [10, arm],
        [arm, arm],
        [arm, 10],
        [-arm, 10],
        [-arm, arm],
        [-10, arm],
        [-10, -arm],
        [-arm, -arm],
        [-arm, -10],
        [arm, -10],
        [arm, -arm],
      ] as const),
    );
    expect(slotsOf([reversePath(cross)], ANY)).toMatchObject(
      [1, 2, 3, 4].map(() => ({ widthMm: 3, lengthMm: 8.5 })),
    );
  });
});

function turned(path: Path, angle: number, offset: Point): Path {
  const move = ({ x, y }: Point): Point => ({
    x: offset.x + x * Math.cos(angle) - y * Math.sin(angle),
    y: offset.y + x * Math.sin(angle) + y * Math.cos(angle),
  });
  return {
    ...path,
    start: move(path.start),
    segments: path.segments.map((segment) => ({ kind: "line", to: move(segment.to) })),
  };
}

/** Begins elsewhere, with every side in pieces, some of them as straight cubics. */
function inPieces(path: Path, first: number, pieces: number): Path {
  const corners = [path.start, ...path.segments.slice(0, -1).map(({ to }) => to)];
  const points = corners.flatMap((from, index) => {
    const to = corners[(index + 1) % corners.length] ?? from;
    return Array.from({ length: pieces }, (_, piece) => between(from, to, piece / pieces));
  });
  const run = [...points.slice(first % points.length), ...points.slice(0, first % points.length)];
  const [start] = run;
  if (start === undefined) return path;
  const segments = [...run.slice(1), start].map((to, index): Segment => {
    const from = run[index] ?? start;
    if (index % 3 !== 0) return { kind: "line", to };
    return {
      kind: "cubic",
      control1: between(from, to, 0.3),
      control2: between(from, to, 0.6),
      to,
    };
  });
  return { start, segments, closed: true };
}

function between(a: Point, b: Point, share: number): Point {
  return { x: a.x + share * (b.x - a.x), y: a.y + share * (b.y - a.y) };
}

describe("however it is drawn", () => {
  it("a slot keeps its width and length when turned, moved, begun elsewhere or in pieces", () => {
    let judged = 0;
    assert(
      property(
        double({ min: 2, max: 8, noNaN: true }),
        double({ min: 8, max: 35, noNaN: true }),
        double({ min: 0, max: 7, noNaN: true }),
        nat(60),
        integer({ min: 1, max: 4 }),
        (width, depth, angle, first, pieces) => {
          const drawn = turned(notched(width, depth, []), angle, { x: 300, y: -70 });
          const [slot, ...more] = slotsOf([inPieces(drawn, first, pieces)], {
            lowMm: 1.99,
            highMm: 8.01,
          });
          expect(more).toEqual([]);
          expect(slot?.widthMm).toBeCloseTo(width, 6);
          expect(slot?.lengthMm).toBeCloseTo(depth, 6);
          judged++;
        },
      ),
      { numRuns: 200, seed: 7 },
    );
    expect(judged).toBe(200);
  });
});
