import { describe, expect, it } from "vitest";
import { FLATTENING_MM, readPartGeometry } from "../../src/drawing/parts.ts";
import type { PartGeometry } from "../../src/drawing/types.ts";
import { pathBounds } from "../../src/geometry/path.ts";
import { ringArea } from "../../src/geometry/ring.ts";
import type { Shape } from "../../src/job/types.ts";
import { onlyProblem, page, part, readOne } from "./reading.ts";

describe("shapes", () => {
  it("have the area and length of their closed formulas and lie at 0,0", () => {
    const cases: readonly (readonly [Shape, number, number, number, number])[] = [
      [{ kind: "rectangle", widthMm: 120, heightMm: 80, cornerRadiusMm: 0 }, 9600, 400, 120, 80],
      [
        { kind: "rectangle", widthMm: 120, heightMm: 80, cornerRadiusMm: 10 },
        9600 - (4 - Math.PI) * 100,
        400 - (8 - 2 * Math.PI) * 10,
        120,
        80,
      ],
      // Half of the side as radius: a stadium.
      [
        { kind: "rectangle", widthMm: 60, heightMm: 20, cornerRadiusMm: 10 },
        800 + Math.PI * 100,
        80 + 20 * Math.PI,
        60,
        20,
      ],
      [{ kind: "disc", diameterMm: 50 }, Math.PI * 625, Math.PI * 50, 50, 50],
      [{ kind: "ring", diameterMm: 50, boreMm: 30 }, Math.PI * 400, Math.PI * 80, 50, 50],
    ];
    for (const [shape, area, length, width, height] of cases) {
      const geometry = readShape(shape);
      expect(geometry.areaMm2).toBeCloseTo(area, 9);
      expect(geometry.cutLengthMm).toBeCloseTo(length, 9);
      const { minX, minY, maxX, maxY } = pathBounds(geometry.outline);
      [minX, minY, maxX - width, maxY - height].forEach((zero) => expect(zero).toBeCloseTo(0, 9));
      expect(geometry.place).toEqual({ file: "parts.csv", line: 2, column: null });
    }
  });

  it("are straight or flattened, outer ring counter-clockwise, bore clockwise and round", () => {
    const plain = readShape({ kind: "rectangle", widthMm: 5, heightMm: 4, cornerRadiusMm: 0 });
    expect(plain.flatteningMm).toBe(0);
    expect(ringArea(plain.region.outer)).toBe(20);
    const ring = readShape({ kind: "ring", diameterMm: 50, boreMm: 5.5 });
    expect(ring.flatteningMm).toBe(FLATTENING_MM);
    expect(ringArea(ring.region.outer)).toBeGreaterThan(0.99 * Math.PI * 625);
    expect(ringArea(ring.region.holes[0] ?? [])).toBeLessThan(0);
    expect(ring.roundHoles).toHaveLength(1);
    expect(ring.roundHoles[0]?.diameterMm).toBe(5.5);
    expect(ring.roundHoles[0]?.centre.x).toBeCloseTo(25, 9);
  });

  it("that can not be made are told at their row", () => {
    const wrong: readonly (readonly [Shape, string])[] = [
      [{ kind: "rectangle", widthMm: 0, heightMm: 4, cornerRadiusMm: 0 }, "part-degenerate"],
      [
        {
          kind: "rectangle",
          widthMm: 5,
          heightMm: 4,
          cornerRadiusMm: { topLeft: 3, topRight: 0, bottomRight: 0, bottomLeft: 1.1 },
        },
        "shape-size",
      ],
      [{ kind: "rectangle", widthMm: 5, heightMm: 4, cornerRadiusMm: 2.1 }, "shape-size"],
      [{ kind: "disc", diameterMm: 0 }, "part-degenerate"],
      [{ kind: "ring", diameterMm: 5, boreMm: 5 }, "shape-size"],
    ];
    for (const [shape, code] of wrong) {
      const problem = onlyProblem(readPartGeometry([part(shape)], [], []));
      expect(problem).toMatchObject({ code, file: "parts.csv", line: 2 });
    }
  });
});

describe("the paint area of a plate", () => {
  // Common practice, no source: A = 2 A_face + t (all perimeters); 200 x 100 x 3 mm with one 20 mm hole.
  const expected = 41_360.2;

  it("with a hole is 41360.2 mm2, from a drawing", () => {
    const drawn = readOne(page(`<rect width="200" height="100"/><circle cx="60" cy="50" r="10"/>`));
    expect(paintArea(drawn)).toBeCloseTo(expected, 1);
  });

  it("and from a path with the hole as a second subpath of arcs", () => {
    const drawn = readOne(
      page(`<path d="M0 0H200V100H0Z m50 50a10 10 0 0 0 20 0a10 10 0 0 0-20 0z"/>`),
    );
    expect(paintArea(drawn)).toBeCloseTo(expected, 1);
  });
});

function readShape(shape: Shape): PartGeometry {
  const { value, problems } = readPartGeometry([part(shape)], [], []);
  expect(problems).toEqual([]);
  const [geometry] = value ?? [];
  if (geometry === undefined) throw new RangeError("no part was read");
  return geometry;
}

function paintArea({ areaMm2, cutLengthMm }: PartGeometry): number {
  return 2 * areaMm2 + 3 * cutLengthMm;
}
