import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { circlePath, pathLength, polylinePath, reversePath } from "../../src/geometry/path.ts";
import type { Path, Point, Segment } from "../../src/geometry/types.ts";
import { moveTime } from "../../src/machine/motion.ts";
import { plannedTime } from "../../src/machine/speed-plan.ts";
import { posePath } from "../../src/geometry/pose.ts";
import { KnownBends, stretchesOf } from "../../src/machine/stretches.ts";
import { simulatedTime } from "./simulated-time.ts";

const planned = (path: Path, feed: number, acceleration = 1000, tolerance = 0.05): number =>
  plannedTime(stretchesOf(path, tolerance), feed, acceleration);

/** From 0,0 along x, then turned by so many degrees. */
function bent(degrees: number, lengthMm = 100): Path {
  const angle = (degrees * Math.PI) / 180;
  const corner = { x: lengthMm, y: 0 };
  const end = { x: lengthMm + lengthMm * Math.cos(angle), y: lengthMm * Math.sin(angle) };
  return polylinePath([{ x: 0, y: 0 }, corner, end], false);
}

function circleOf(count: number, radiusMm: number): readonly [Point, ...Point[]] {
  const at = (index: number): Point => {
    const angle = (2 * Math.PI * index) / count;
    return { x: radiusMm * Math.cos(angle), y: radiusMm * Math.sin(angle) };
  };
  return [at(0), ...Array.from({ length: count - 1 }, (_, index) => at(index + 1))];
}

describe("the speed at corners and in curves", () => {
  // Source: trade-facts 2.4, plane geometry of the arc that misses the corner by the tolerance.
  it.each([
    [1000, 0.02, 10, 72.36],
    [1000, 0.02, 30, 23.81],
    [1000, 0.02, 45, 15.58],
    [1000, 0.02, 90, 6.949],
    [1000, 0.02, 135, 3.521],
    [3000, 0.05, 90, 19.03],
  ])("at %d mm/s2 and %d mm comes to the published one at %d degrees", (a, d, degrees, speed) => {
    const { cornersMm } = stretchesOf(bent(degrees), d);
    expect(Math.sqrt(a * cornersMm[0]!)).toBeCloseTo(speed, speed > 10 ? 2 : 3);
  });

  // Source: the same page, v = sqrt(a r).
  it("is that of the radius in a circle", () => {
    const { radiiMm } = stretchesOf(circlePath({ x: 0, y: 0 }, 1.7), 0.02);
    expect(Math.sqrt(1000 * radiiMm[0]!)).toBeCloseTo(41.23, 2);
  });

  it("is that of the curve where a curve comes as chords, however many", () => {
    for (const count of [60, 300, 2000, 30_000]) {
      const chords = planned(polylinePath(circleOf(count, 8), true), 200);
      expect(chords / planned(circlePath({ x: 0, y: 0 }, 8), 200)).toBeCloseTo(1, 1);
    }
    // Chords that miss the circle by more than the tolerance are corners.
    const few = polylinePath(circleOf(12, 8), true);
    expect(planned(few, 200)).toBeGreaterThan(1.2 * planned(circlePath({ x: 0, y: 0 }, 8), 200));
  });

  it("does not fall for vertices nearer to each other than the tolerance", () => {
    const split = polylinePath(
      [
        { x: 0, y: 0 },
        { x: 50, y: 0 },
        { x: 50.01, y: 0.01 },
        { x: 50.02, y: 0 },
        { x: 100, y: 0 },
      ],
      false,
    );
    expect(planned(split, 80)).toBeCloseTo(moveTime(pathLength(split), 80, 1000), 1);
  });
});

/** A square of 20 mm with corners of a radius, each in one arc or in several. */
function rounded(radiusMm: number, arcs: number): Path {
  const corners = [
    { x: 20, y: 0 },
    { x: 20, y: 20 },
    { x: 0, y: 20 },
  ];
  const segments = corners.flatMap(({ x, y }, index): Segment[] => {
    const centre = { x: x === 0 ? radiusMm : x - radiusMm, y: y === 0 ? radiusMm : y - radiusMm };
    const at = (angle: number): Point => ({
      x: centre.x + radiusMm * Math.cos(angle),
      y: centre.y + radiusMm * Math.sin(angle),
    });
    const first = (Math.PI / 2) * (index - 1);
    const sweepRad = Math.PI / 2 / arcs;
    return [
      { kind: "line", to: at(first) },
      ...Array.from({ length: arcs }, (_, arc): Segment => {
        return { kind: "arc", to: at(first + sweepRad * (arc + 1)), centre, sweepRad };
      }),
    ];
  });
  return {
    start: { x: 0, y: 0 },
    segments: [...segments, { kind: "line", to: { x: 0, y: 0 } }],
    closed: true,
  };
}

describe("a fillet", () => {
  it("is never slower than the sharp corner that it rounds", () => {
    const sharp = planned(
      polylinePath(
        [
          { x: 0, y: 0 },
          { x: 20, y: 0 },
          { x: 20, y: 20 },
          { x: 0, y: 20 },
        ],
        true,
      ),
      30,
      1300,
    );
    for (const arcs of [1, 5])
      for (const radius of [0.001, 0.02, 0.06, 0.11, 0.5, 3])
        expect(planned(rounded(radius, arcs), 30, 1300)).toBeLessThan(sharp * (1 + 2e-3));
    expect(planned(rounded(3, 1), 30, 1300)).toBeLessThan(sharp);
    expect(planned(rounded(3, 5), 30, 1300)).toBeCloseTo(planned(rounded(3, 1), 30, 1300), 9);
  });
});

describe("the time along a path", () => {
  it("is that of one move where it is straight, in however many pieces", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.2, max: 60, noNaN: true }), { minLength: 1, maxLength: 20 }),
        fc.double({ min: 1, max: 300, noNaN: true }),
        (steps, feed) => {
          let x = 0;
          const points = steps.map((step) => ({ x: (x += step), y: 0 }));
          const time = planned(polylinePath([{ x: 0, y: 0 }, ...points], false), feed);
          expect(time / moveTime(x, feed, 1000)).toBeCloseTo(1, 9);
        },
      ),
      { seed: 3, numRuns: 60 },
    );
  });

  it("is the same for a half circle in one arc or in many, and for any path from its other end", () => {
    const centre = { x: 0, y: 0 };
    const arcs = (count: number): Path => ({
      start: { x: 5, y: 0 },
      segments: Array.from({ length: count }, (_, index): Segment => {
        const angle = (Math.PI * (index + 1)) / count;
        const to = { x: 5 * Math.cos(angle), y: 5 * Math.sin(angle) };
        return { kind: "arc", to, centre, sweepRad: Math.PI / count };
      }),
      closed: false,
    });
    for (const count of [2, 7, 40])
      expect(planned(arcs(count), 90)).toBeCloseTo(planned(arcs(1), 90), 6);
    for (const { path } of DRAWINGS)
      expect(planned(reversePath(path), 60) / planned(path, 60)).toBeCloseTo(1, 9);
  });

  // The same line in the same places, so the same time, by whatever rule corners go.
  it("does not change where straight sides and arcs beside corners come in pieces, however short", () => {
    const seen = { corners: 0, pieces: 0 };
    for (const { path } of DRAWINGS) {
      const pieces = inPieces(path, [0.001, 0.02, 0.06, 0.5, 0.9, 0.99, 0.9995]);
      seen.corners += stretchesOf(path, 0.05).cornersMm.filter((radius) => radius < 1).length;
      seen.pieces += pieces.segments.length - path.segments.length;
      for (const feed of [20, 150])
        expect(planned(pieces, feed) / planned(path, feed)).toBeCloseTo(1, 7);
    }
    expect(seen.corners).toBeGreaterThan(300);
    expect(seen.pieces).toBeGreaterThan(2500);
  });

  // A plate whose lower side is bulged by a circle of 60 mm, drawn as an arc and as short chords.
  it("is hardly another where the arc beside a corner comes as chords", () => {
    const arc: Segment = {
      kind: "arc",
      to: { x: 40, y: 0 },
      centre: { x: 20, y: 56.57 },
      sweepRad: 2 * Math.asin(20 / Math.hypot(20, 56.57)),
    };
    const rest = [line(40, 30), line(0, 30), line(0, 0)];
    const bulged: Path = { start: { x: 0, y: 0 }, segments: [arc, ...rest], closed: true };
    for (const count of [100, 400, 650]) {
      const shares = Array.from({ length: count - 1 }, (_, index) => (index + 1) / count);
      const chords = inPieces(bulged, shares)
        .segments.slice(0, count)
        .map(({ to }) => line(to.x, to.y));
      const flattened = planned({ ...bulged, segments: [...chords, ...rest] }, 150);
      expect(Math.abs(flattened / planned(bulged, 150) - 1)).toBeLessThan(0.005);
    }
  });

  it("never grows with feed, acceleration or tolerance, nor comes below length over feed", () => {
    for (const { path } of DRAWINGS) {
      const time = planned(path, 40, 800, 0.03);
      expect(time).toBeGreaterThanOrEqual(pathLength(path) / 40);
      expect(planned(path, 60, 800, 0.03)).toBeLessThanOrEqual(time);
      expect(planned(path, 40, 1200, 0.03)).toBeLessThanOrEqual(time);
      expect(planned(path, 40, 800, 0.06)).toBeLessThanOrEqual(time * (1 + 1e-9));
    }
  });

  // Source: a simulation in small steps of time, written for this test, that knows the limits alone.
  it("agrees with a simulation in small steps of time, on 20 drawings", () => {
    expect(DRAWINGS).toHaveLength(20);
    const worst = Math.max(
      ...DRAWINGS.map(({ path, feed, acceleration }) => {
        const simulated = simulatedTime(path, { feed, acceleration, toleranceMm: 0.05 });
        return Math.abs(planned(path, feed, acceleration) / simulated - 1);
      }),
    );
    expect(worst).toBeLessThan(0.005);
  });

  it("is the same for copies whose curves were measured before, however they lie", () => {
    const bends = new KnownBends();
    const poses = [0, 30, 90, 217].flatMap((turnDeg) =>
      [false, true].map((mirrored) => ({ turnDeg, mirrored, xMm: 812.3, yMm: 95.7 })),
    );
    let copies = 0;
    for (const { path, feed, acceleration } of DRAWINGS)
      for (const copy of poses.map((pose) => posePath(pose, path))) {
        const known = plannedTime(stretchesOf(copy, 0.05, bends), feed, acceleration);
        expect(Math.abs(known / planned(copy, feed, acceleration) - 1)).toBeLessThan(1e-9);
        expect(bends.lengthOf(copy)).toBeCloseTo(pathLength(copy), 8);
        copies += 1;
      }
    expect(copies).toBe(160);
  });

  it("takes no longer than a moment to find for 60,000 short lines", () => {
    const path = polylinePath(circleOf(60_000, 400), true);
    const start = performance.now();
    expect(planned(path, 50)).toBeGreaterThan(pathLength(path) / 50);
    expect(performance.now() - start).toBeLessThan(1000);
  });
});

/** The same way with lines and arcs parted at these shares of each; cubics stay whole. */
function inPieces(path: Path, shares: readonly number[]): Path {
  let from = path.start;
  const segments = path.segments.flatMap((segment): readonly Segment[] => {
    const begin = from;
    from = segment.to;
    if (segment.kind === "cubic") return [segment];
    const parts = [...shares, 1].map((share, index): Segment => {
      const to = share === 1 ? segment.to : partWay(begin, segment, share);
      if (segment.kind === "line") return { kind: "line", to };
      return { ...segment, to, sweepRad: segment.sweepRad * (share - (shares[index - 1] ?? 0)) };
    });
    return parts;
  });
  return { ...path, segments };
}

function partWay(from: Point, segment: Segment, share: number): Point {
  if (segment.kind === "arc") {
    const { centre } = segment;
    const radius = Math.hypot(from.x - centre.x, from.y - centre.y);
    const angle = Math.atan2(from.y - centre.y, from.x - centre.x) + segment.sweepRad * share;
    return { x: centre.x + radius * Math.cos(angle), y: centre.y + radius * Math.sin(angle) };
  }
  const { to } = segment;
  return { x: from.x + (to.x - from.x) * share, y: from.y + (to.y - from.y) * share };
}

interface Drawing {
  readonly path: Path;
  readonly feed: number;
  readonly acceleration: number;
}

/** Zigzags, gears, stars, rounded plates and waves of cubics, at feeds from thick sheet to card. */
const DRAWINGS: readonly Drawing[] = Array.from({ length: 20 }, (_, number) => ({
  path: [zigzag, gear, plate, wave, mixed][number % 5]!(number),
  feed: [8, 20, 45, 90, 150][(number * 7) % 5]!,
  acceleration: [600, 1300, 3000][number % 3]!,
}));

/** Evenly spread, from the number alone. */
function share(number: number, index: number): number {
  const value = Math.sin(12.9898 * number + 78.233 * (index + 1)) * 43_758.5453;
  return value - Math.floor(value);
}

function zigzag(number: number): Path {
  const points = Array.from({ length: 25 }, (_, index) => ({
    x: index * (1 + 4 * share(number, index)),
    y: 12 * share(number, index + 50),
  }));
  return polylinePath([{ x: -5, y: 0 }, ...points], false);
}

function gear(number: number): Path {
  const teeth = 8 + number;
  const points = Array.from({ length: teeth * 4 }, (_, index) => {
    const angle = (2 * Math.PI * index) / (teeth * 4);
    const radius = index % 4 < 2 ? 20 : 24 + 3 * share(number, 1);
    return { x: radius * Math.cos(angle), y: radius * Math.sin(angle) };
  });
  const [first, ...rest] = points;
  return polylinePath([first!, ...rest], true);
}

function corner(to: Point, centre: Point): Segment {
  return { kind: "arc", to, centre, sweepRad: Math.PI / 2 };
}

function line(x: number, y: number): Segment {
  return { kind: "line", to: { x, y } };
}

function plate(number: number): Path {
  const [width, height] = [30 + 40 * share(number, 1), 20 + 30 * share(number, 2)];
  const radius = 0.5 + 6 * share(number, 3);
  return {
    start: { x: radius, y: 0 },
    segments: [
      line(width - radius, 0),
      corner({ x: width, y: radius }, { x: width - radius, y: radius }),
      line(width, height),
      line(radius, height),
      corner({ x: 0, y: height - radius }, { x: radius, y: height - radius }),
      line(0, 0),
      line(radius, 0),
    ],
    closed: true,
  };
}

function wave(number: number): Path {
  const segments = Array.from({ length: 6 }, (_, index): Segment => {
    const up = (index % 2 === 0 ? 1 : -1) * (2 + 10 * share(number, index));
    const x = 12 * index;
    return {
      kind: "cubic",
      control1: { x: x + 3, y: up },
      control2: { x: x + 9, y: up },
      to: { x: x + 12, y: 0 },
    };
  });
  return { start: { x: 0, y: 0 }, segments, closed: false };
}

/** A curve, an arc back, sharp corners between. */
function mixed(number: number): Path {
  const high = 8 + 10 * share(number, 4);
  return {
    start: { x: 0, y: 0 },
    segments: [
      { kind: "line", to: { x: 20, y: 0 } },
      {
        kind: "cubic",
        control1: { x: 24, y: high },
        control2: { x: 32, y: -high },
        to: { x: 40, y: 0 },
      },
      { kind: "line", to: { x: 40, y: 15 } },
      { kind: "arc", to: { x: 30, y: 15 }, centre: { x: 35, y: 15 }, sweepRad: Math.PI },
      { kind: "line", to: { x: 30, y: 14 } },
      { kind: "line", to: { x: 0, y: 14 } },
      { kind: "line", to: { x: 0, y: 0 } },
    ],
    closed: true,
  };
}
