import { Arc, Circle, Point as FlatPoint, Polygon, Segment as FlatSegment } from "@flatten-js/core";
import { array, assert, constantFrom, double, integer, property, record } from "fast-check";
import { describe, expect, it } from "vitest";
import { readPartGeometry } from "../../src/drawing/parts.ts";
import type { PartGeometry } from "../../src/drawing/types.ts";
import { shapeHoleFault } from "../../src/drawing/shape.ts";
import { slotsOf } from "../../src/fit/slots.ts";
import { pathBounds } from "../../src/geometry/path.ts";
import { ringArea } from "../../src/geometry/ring.ts";
import type { Path, Ring } from "../../src/geometry/types.ts";
import type { HolePattern, Shape } from "../../src/job/types.ts";
import { onlyProblem, part } from "./reading.ts";

function readShape(shape: Shape): PartGeometry {
  const { value, problems } = readPartGeometry([part(shape)], [], []);
  expect(problems.filter(({ severity }) => severity === "error")).toEqual([]);
  const [geometry] = value ?? [];
  if (geometry === undefined) throw new RangeError("no part was read");
  return geometry;
}

function plate(...holes: readonly HolePattern[]): Shape {
  return { kind: "rectangle", widthMm: 120, heightMm: 80, cornerRadiusMm: 6, holes };
}

function centres(geometry: PartGeometry): readonly string[] {
  return geometry.roundHoles
    .map(({ centre: { x, y } }) => `${Number(x.toFixed(6))} ${Number(y.toFixed(6))}`)
    .toSorted();
}

describe("a regular polygon", () => {
  it("has the area n/2 r^2 sin(2 pi/n) and the length 2 n r sin(pi/n), on one of its sides", () => {
    for (let sides = 3; sides <= 100; sides++) {
      const geometry = readShape({ kind: "polygon", diameterMm: 90, sides });
      const area = (sides / 2) * 45 ** 2 * Math.sin((2 * Math.PI) / sides);
      expect(geometry.areaMm2).toBeCloseTo(area, 8);
      expect(geometry.cutLengthMm).toBeCloseTo(2 * sides * 45 * Math.sin(Math.PI / sides), 8);
      const { minX, minY } = pathBounds(geometry.outline);
      expect(minX).toBeCloseTo(0, 9);
      expect(minY).toBeCloseTo(0, 9);
      const level = geometry.region.outer.filter(({ y }) => Math.abs(y) < 1e-9);
      expect(level).toHaveLength(2);
      expect(ringArea(geometry.region.outer)).toBeGreaterThan(0);
    }
  });

  it("has its middle where the circle's is, also of a triangle", () => {
    const holes = [{ kind: "centre", diameterMm: 10 }] as const;
    const triangle = readShape({ kind: "polygon", diameterMm: 60, sides: 3, holes });
    // The middle is half the radius above the side.
    expect(triangle.roundHoles[0]?.centre.y).toBeCloseTo(15, 9);
  });
});

describe("a rectangle with a radius for each corner", () => {
  it("has the area w h - (1 - pi/4) sum r^2 and the length 2 (w + h) - (2 - pi/2) sum r", () => {
    const share = double({ min: 0, max: 0.5, noNaN: true });
    const rarely = constantFrom(0, 0, 1, 1, 1);
    let sharp = 0;
    assert(
      property(
        double({ min: 1, max: 900, noNaN: true }),
        double({ min: 1, max: 900, noNaN: true }),
        array(record({ share, rarely }), { minLength: 4, maxLength: 4 }),
        (widthMm, heightMm, corners) => {
          const most = Math.min(widthMm, heightMm);
          const radii = corners.map((one) => one.share * one.rarely * most);
          const [topLeft = 0, topRight = 0, bottomRight = 0, bottomLeft = 0] = radii;
          if (radii.includes(0)) sharp++;
          const cornerRadiusMm = { topLeft, topRight, bottomRight, bottomLeft };
          const read = readShape({ kind: "rectangle", widthMm, heightMm, cornerRadiusMm });
          const squares = radii.reduce((sum, r) => sum + r * r, 0);
          const area = widthMm * heightMm - (1 - Math.PI / 4) * squares;
          const sum = radii.reduce((all, r) => all + r, 0);
          const around = 2 * (widthMm + heightMm) - (2 - Math.PI / 2) * sum;
          expect(Math.abs(read.areaMm2 / area - 1)).toBeLessThan(1e-9);
          expect(Math.abs(read.cutLengthMm / around - 1)).toBeLessThan(1e-9);
          const [libraryArea, libraryLength] = measuredByLibrary(read.outline);
          expect(Math.abs(libraryArea / area - 1)).toBeLessThan(1e-6);
          expect(Math.abs(libraryLength / around - 1)).toBeLessThan(1e-6);
          const { minX, minY, maxX, maxY } = pathBounds(read.outline);
          expect(Math.max(Math.abs(minX), Math.abs(minY))).toBeLessThan(1e-9);
          expect(Math.max(Math.abs(maxX - widthMm), Math.abs(maxY - heightMm))).toBeLessThan(1e-9);
        },
      ),
      { numRuns: 300, seed: 7 },
    );
    expect(sharp).toBeGreaterThan(50);
  });

  it("has each where its name says, top being up, and may be a quarter of a disc", () => {
    const none = { topLeft: 0, topRight: 0, bottomRight: 0, bottomLeft: 0 };
    const corners = {
      topLeft: [0, 50],
      topRight: [80, 50],
      bottomRight: [80, 0],
      bottomLeft: [0, 0],
    };
    for (const [name, [x, y]] of Object.entries(corners)) {
      const cornerRadiusMm = { ...none, [name]: 50 };
      const { outline, areaMm2 } = readShape({
        kind: "rectangle",
        widthMm: 80,
        heightMm: 50,
        cornerRadiusMm,
      });
      const ends = outline.segments.map(({ to }) => `${to.x} ${to.y}`);
      expect(ends).not.toContain(`${x} ${y}`);
      expect(areaMm2).toBeCloseTo(80 * 50 - (1 - Math.PI / 4) * 2500, 9);
    }
    const quarter = { ...none, topRight: 50 };
    const { areaMm2 } = readShape({
      kind: "rectangle",
      widthMm: 50,
      heightMm: 50,
      cornerRadiusMm: quarter,
    });
    expect(areaMm2).toBeCloseTo((Math.PI / 4) * 2500, 9);
  });
});

describe("a slot", () => {
  it("is a rectangle and a circle: w h + pi r^2, whichever way it lies", () => {
    for (const [widthMm, heightMm] of [
      [60, 12],
      [12, 60],
      [20, 20],
    ] as const) {
      const { areaMm2, cutLengthMm } = readShape({ kind: "slot", widthMm, heightMm });
      const [r, straight] = [Math.min(widthMm, heightMm) / 2, Math.abs(widthMm - heightMm)];
      expect(areaMm2).toBeCloseTo(straight * 2 * r + Math.PI * r * r, 9);
      expect(cutLengthMm).toBeCloseTo(2 * straight + 2 * Math.PI * r, 9);
    }
  });
});

describe("a half-lap", () => {
  it("lacks its slot in the area, has it twice more around, and the finder of slots finds it", () => {
    const shape = { kind: "half-lap", widthMm: 150, heightMm: 80 } as const;
    const lap = readShape({
      ...shape,
      slotWidthMm: 2.9,
      slotDepthMm: 40.1,
      slotAtMm: 50,
      slotSide: "top",
    });
    expect(lap.areaMm2).toBeCloseTo(150 * 80 - 2.9 * 40.1, 9);
    expect(lap.cutLengthMm).toBeCloseTo(2 * (150 + 80) + 2 * 40.1, 9);
    const [slot, ...more] = slotsOf([lap.outline], { lowMm: 2, highMm: 4 });
    expect(more).toEqual([]);
    expect(slot?.widthMm).toBeCloseTo(2.9, 9);
    expect(slot?.lengthMm).toBeCloseTo(40.1, 9);
    expect(slot?.at.x).toBeCloseTo(50, 9);
    expect(slot?.at.y).toBeCloseTo(80 - 20.05, 9);
  });

  it("has its slot at the bottom when it says so, as far from the left as its partner's", () => {
    const slot = { slotWidthMm: 2.9, slotDepthMm: 30, slotAtMm: 50 } as const;
    const lap = { kind: "half-lap", widthMm: 150, heightMm: 80, ...slot } as const;
    const [top, bottom] = (["top", "bottom"] as const).map((slotSide) =>
      readShape({ ...lap, slotSide }),
    );
    const mirrored = top?.region.outer.map(({ x, y }) => ({ x, y: 80 - y }));
    expect(cornersOf(bottom?.region.outer ?? [])).toEqual(cornersOf(mirrored ?? []));
    expect(ringArea(bottom?.region.outer ?? [])).toBeCloseTo(150 * 80 - 2.9 * 30, 9);
    expect(slotsOf(bottom ? [bottom.outline] : [], { lowMm: 2, highMm: 4 })[0]?.at.x).toBeCloseTo(
      50,
      9,
    );
  });
});

describe("shapes of any size", () => {
  it("have the area and the length that @flatten-js/core gives their lines and arcs", () => {
    const judged = new Map<string, number>();
    assert(
      property(
        double({ min: 5, max: 900, noNaN: true }),
        double({ min: 5, max: 900, noNaN: true }),
        double({ min: 0.05, max: 0.95, noNaN: true }),
        integer({ min: 3, max: 100 }),
        constantFrom(...KINDS),
        (widthMm, heightMm, share, sides, kind) => {
          const shape = shapeOf(kind, widthMm, heightMm, share, sides);
          const { areaMm2, cutLengthMm, outline, holes } = readShape(shape);
          const [face = [0, 0], ...bores] = [outline, ...holes].map(measuredByLibrary);
          const area = bores.reduce((left, [bore]) => left - bore, face[0]);
          const length = bores.reduce((sum, [, around]) => sum + around, face[1]);
          expect(areaMm2 / area).toBeCloseTo(1, 9);
          expect(cutLengthMm / length).toBeCloseTo(1, 9);
          const { minX, minY } = pathBounds(outline);
          expect(Math.max(Math.abs(minX), Math.abs(minY))).toBeLessThan(1e-9);
          judged.set(kind, (judged.get(kind) ?? 0) + 1);
        },
      ),
      { numRuns: 300, seed: 7 },
    );
    for (const kind of KINDS) expect(judged.get(kind) ?? 0).toBeGreaterThan(25);
  });
});

describe("patterns of holes", () => {
  it("lie where they are said, round, and count as holes for bolts", () => {
    const found = readShape(
      plate(
        { kind: "corners", diameterMm: 5.5, insetMm: 12 },
        { kind: "centre", diameterMm: 30 },
        {
          kind: "at",
          diameterMm: 4,
          points: [
            { xMm: 20, yMm: 40 },
            { xMm: 100, yMm: 40 },
          ],
        },
      ),
    );
    expect(centres(found)).toEqual(
      ["12 12", "12 68", "108 12", "108 68", "60 40", "20 40", "100 40"].toSorted(),
    );
    expect(found.roundHoles.filter(({ diameterMm }) => diameterMm === 5.5)).toHaveLength(4);
  });

  it("stand in rows about the middle, or evenly on a circle from its top", () => {
    const pitches = { pitchXMm: 40, pitchYMm: 30 };
    const grid = { kind: "grid", diameterMm: 5, columns: 3, rows: 2, ...pitches } as const;
    expect(centres(readShape(plate(grid)))).toEqual(
      ["20 25", "60 25", "100 25", "20 55", "60 55", "100 55"].toSorted(),
    );
    const circle = { kind: "circle", diameterMm: 5.5, count: 4, circleMm: 72 } as const;
    const disc = readShape({ kind: "disc", diameterMm: 100, holes: [circle] });
    expect(centres(disc)).toEqual(["50 86", "14 50", "50 14", "86 50"].toSorted());
  });

  it("stay clear of a slot", () => {
    const lap = { kind: "half-lap", widthMm: 120, heightMm: 80, slotWidthMm: 4 } as const;
    const slot = { slotDepthMm: 40.1, slotAtMm: 60, slotSide: "bottom" } as const;
    const inSlot = { ...lap, ...slot, holes: [{ kind: "centre", diameterMm: 6 }] } as const;
    expect(onlyProblem(readPartGeometry([part(inSlot)], [], []))).toMatchObject({
      found: "a hole of 6 mm at 60, 40 mm",
      expected: "holes inside of the outline, with material around them",
    });
    const corners = { kind: "corners", diameterMm: 6, insetMm: 12 } as const;
    expect(readShape({ ...lap, ...slot, holes: [corners] }).roundHoles).toHaveLength(4);
  });

  it("of ten thousand holes are looked at within the time limit", () => {
    const grid = { kind: "grid", diameterMm: 4, columns: 100, rows: 100 } as const;
    const holes = [{ ...grid, pitchXMm: 8, pitchYMm: 8 }] as const;
    const shape = { kind: "rectangle", widthMm: 810, heightMm: 810, cornerRadiusMm: 5 } as const;
    expect(shapeHoleFault({ ...shape, holes })).toBeNull();
  });

  it("are refused exactly when two of them meet, held against all pairs", () => {
    const judged = { apart: 0, meeting: 0 };
    const hole = record({
      xMm: integer({ min: 20, max: 380 }),
      yMm: integer({ min: 20, max: 380 }),
      diameterMm: integer({ min: 2, max: 30 }),
    });
    assert(
      property(array(hole, { minLength: 2, maxLength: 12 }), (all) => {
        const holes = all.map(({ diameterMm, ...at }): HolePattern => {
          return { kind: "at", diameterMm, points: [at] };
        });
        const meet = all.some((a, index) =>
          all
            .slice(0, index)
            .some(
              (b) =>
                4 * ((a.xMm - b.xMm) ** 2 + (a.yMm - b.yMm) ** 2) <=
                (a.diameterMm + b.diameterMm) ** 2,
            ),
        );
        const bare = { kind: "rectangle", widthMm: 400, heightMm: 400, cornerRadiusMm: 0 } as const;
        expect(shapeHoleFault({ ...bare, holes }) !== null).toBe(meet);
        judged[meet ? "meeting" : "apart"]++;
      }),
      { numRuns: 400, seed: 11 },
    );
    expect(Math.min(judged.apart, judged.meeting)).toBeGreaterThan(60);
  });

  it("take their circles from the plate, by closed formulas and by @flatten-js/core", () => {
    let judged = 0;
    assert(
      property(
        double({ min: 60, max: 300, noNaN: true }),
        double({ min: 60, max: 300, noNaN: true }),
        integer({ min: 200, max: 800 }).map((hundredths) => hundredths / 100),
        integer({ min: 1, max: 3 }),
        constantFrom("corners", "circle", "grid"),
        (widthMm, heightMm, diameterMm, count, kind) => {
          const holes: HolePattern =
            kind === "corners"
              ? { kind, diameterMm, insetMm: 10 }
              : kind === "circle"
                ? { kind, diameterMm, count: count + 2, circleMm: 45 }
                : { kind, diameterMm, columns: count, rows: 2, pitchXMm: 12, pitchYMm: 14 };
          const bare: Shape = { kind: "rectangle", widthMm, heightMm, cornerRadiusMm: 0 };
          const drilled = readShape({ ...bare, holes: [holes] });
          const number = kind === "corners" ? 4 : kind === "circle" ? count + 2 : count * 2;
          expect(drilled.roundHoles).toHaveLength(number);
          const circle = Math.PI * (diameterMm / 2) ** 2;
          expect(drilled.areaMm2).toBeCloseTo(widthMm * heightMm - number * circle, 6);
          expect(drilled.cutLengthMm).toBeCloseTo(
            2 * (widthMm + heightMm) + number * Math.PI * diameterMm,
            6,
          );
          expect(areaByLibrary(drilled, widthMm, heightMm) / drilled.areaMm2).toBeCloseTo(1, 10);
          judged++;
        },
      ),
      { numRuns: 150, seed: 5 },
    );
    expect(judged).toBe(150);
  });

  it("that leave the outline, or meet each other or the bore, are told in their column", () => {
    const wrong: readonly (readonly [Shape, string])[] = [
      [plate({ kind: "corners", diameterMm: 5.5, insetMm: 2 }), "a hole of 5.5 mm at 2, 2 mm"],
      [plate({ kind: "corners", diameterMm: 5.5, insetMm: 72 }), "corners 72 mm from the sides"],
      [plate({ kind: "at", diameterMm: 5, points: [{ xMm: 200, yMm: 10 }] }), "at 200, 10 mm"],
      [
        plate(
          { kind: "centre", diameterMm: 30 },
          { kind: "circle", diameterMm: 8, count: 3, circleMm: 36 },
        ),
        "a hole of 8 mm at 44.41, 31 mm",
      ],
      // They touch, and nothing is left between them.
      [
        plate({ kind: "grid", diameterMm: 5, columns: 2, rows: 1, pitchXMm: 5, pitchYMm: 0 }),
        "a hole of 5 mm at 62.5, 40 mm",
      ],
      [
        {
          kind: "ring",
          diameterMm: 60,
          boreMm: 30,
          holes: [{ kind: "circle", diameterMm: 8, count: 4, circleMm: 36 }],
        },
        "a hole of 8 mm",
      ],
    ];
    for (const [shape, found] of wrong) {
      const problem = onlyProblem(readPartGeometry([part(shape)], [], []));
      expect(problem).toMatchObject({ code: "hole-astray", column: "holes", line: 2 });
      expect(problem.found).toContain(found);
    }
  });
});

const KINDS = ["rectangle", "disc", "ring", "polygon", "slot", "half-lap"] as const;

/** @param share of what the corner radius, bore or slot may take. */
function shapeOf(
  kind: (typeof KINDS)[number],
  widthMm: number,
  heightMm: number,
  share: number,
  sides: number,
): Shape {
  switch (kind) {
    case "rectangle":
      return { kind, widthMm, heightMm, cornerRadiusMm: (share * Math.min(widthMm, heightMm)) / 2 };
    case "disc":
      return { kind, diameterMm: widthMm };
    case "ring":
      return { kind, diameterMm: widthMm, boreMm: share * widthMm };
    case "polygon":
      return { kind, diameterMm: widthMm, sides };
    case "slot":
      return { kind, widthMm, heightMm };
    case "half-lap": {
      const slot = { slotWidthMm: 0.2 * widthMm, slotDepthMm: share * heightMm };
      const slotSide = sides % 2 === 0 ? "top" : "bottom";
      return { kind, widthMm, heightMm, ...slot, slotAtMm: (0.2 + share / 2) * widthMm, slotSide };
    }
  }
}

/** Area and length. */
function measuredByLibrary(path: Path): readonly [number, number] {
  let from = path.start;
  const edges = path.segments.map((segment) => {
    const [a, b] = [new FlatPoint(from.x, from.y), new FlatPoint(segment.to.x, segment.to.y)];
    const before = from;
    from = segment.to;
    if (segment.kind === "line") return new FlatSegment(a, b);
    if (segment.kind === "cubic") throw new RangeError("shapes have no cubics");
    const { centre, sweepRad } = segment;
    const begins = Math.atan2(before.y - centre.y, before.x - centre.x);
    const radius = Math.hypot(before.x - centre.x, before.y - centre.y);
    const middle = new FlatPoint(centre.x, centre.y);
    return new Arc(middle, radius, begins, begins + sweepRad, sweepRad > 0);
  });
  const polygon = new Polygon();
  const face = polygon.addFace(edges);
  return [polygon.area(), face.perimeter];
}

function cornersOf(ring: Ring): readonly string[] {
  return ring.map(({ x, y }) => `${x.toFixed(9)} ${y.toFixed(9)}`).toSorted();
}

/** The plate as a polygon whose faces are its outline and circles, turned the other way. */
function areaByLibrary({ roundHoles }: PartGeometry, width: number, height: number): number {
  const polygon = new Polygon([
    new FlatPoint(0, 0),
    new FlatPoint(width, 0),
    new FlatPoint(width, height),
    new FlatPoint(0, height),
  ]);
  const circles = roundHoles.map(({ centre, diameterMm }) =>
    new Polygon(new Circle(new FlatPoint(centre.x, centre.y), diameterMm / 2)).area(),
  );
  return polygon.area() - circles.reduce((sum, area) => sum + area, 0);
}
