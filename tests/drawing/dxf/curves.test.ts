import { describe, expect, it } from "vitest";
import { pathBounds, pathLength } from "../../../src/geometry/path.ts";
import { ellipseLength } from "../../geometry/closed-forms.ts";
import { rule } from "../reading.ts";
import { dxf, entity, line, rectangle, readPart } from "./dxf-text.ts";

/** DXF reference: ARC, CIRCLE, ELLIPSE; angles run counter-clockwise, those of ELLIPSE in radians. */

const PLATE = rectangle(-200, -200, 400, 400);

/** The one line that is scored on a plate of 400 x 400 mm about 0,0. */
function scored(type: string, ...groups: readonly (string | number)[]) {
  const text = dxf(PLATE + entity(type, 8, "SCORE", ...groups));
  const { scores } = readPart(text, {
    rules: [rule("layer", "score", "score")],
  });
  expect(scores).toHaveLength(1);
  const [path] = scores;
  if (path === undefined) throw new RangeError("nothing scored");
  return path;
}

describe("circles", () => {
  it("have the closed forms of area and length, and are holes inside an outline", () => {
    for (let r = 1; r <= 12; r++) {
      const { areaMm2, cutLengthMm, roundHoles } = readPart(
        dxf(PLATE + entity("CIRCLE", 10, 20, 20, -30, 40, r)),
      );
      expect(areaMm2).toBeCloseTo(160_000 - Math.PI * r * r, 8);
      expect(cutLengthMm).toBeCloseTo(1600 + 2 * Math.PI * r, 9);
      expect(roundHoles).toHaveLength(1);
      expect(roundHoles[0]?.diameterMm).toBeCloseTo(2 * r, 9);
      expect(roundHoles[0]?.centre).toMatchObject({ x: 20, y: -30 });
    }
  });
});

describe("arcs", () => {
  it("have the length of their sweep, across 0 degrees too", () => {
    for (const [from, to, sweep] of [
      [0, 90, 90],
      [350, 10, 20],
      [270, 90, 180],
      [90, 45, 315],
      [-30, 30, 60],
      [720, 725, 5],
      [359.5, 0, 0.5],
    ] as const) {
      const path = scored("ARC", 10, 3, 20, 4, 40, 50, 50, from, 51, to);
      expect(pathLength(path)).toBeCloseTo((sweep * Math.PI * 50) / 180, 9);
      const angle = (from * Math.PI) / 180;
      expect(path.start.x).toBeCloseTo(3 + 50 * Math.cos(angle), 9);
      expect(path.start.y).toBeCloseTo(4 + 50 * Math.sin(angle), 9);
    }
  });

  it("of a whole turn are circles", () => {
    for (const [from, to] of [
      [0, 360],
      [45, 405],
      [90, 90],
    ]) {
      const path = scored("ARC", 10, 0, 20, 0, 40, 50, 50, from ?? 0, 51, to ?? 0);
      expect(path.closed).toBe(true);
      expect(pathLength(path)).toBeCloseTo(100 * Math.PI, 9);
    }
  });

  it("drawn from below, as mirroring leaves them, lie on the other side", () => {
    // Extrusion 0,0,-1: the arbitrary axis algorithm turns x round and leaves y.
    const path = scored("ARC", 10, 30, 20, 5, 40, 10, 50, 0, 51, 90, 210, 0, 220, 0, 230, -1);
    expect(path.start).toMatchObject({ x: -40, y: 5 });
    expect(path.segments.at(-1)?.to).toMatchObject({ x: -30, y: 15 });
    // The middle of the arc lies up and to the left of its centre at -30,5.
    const box = pathBounds(path);
    expect(
      [box.minX, box.minY, box.maxX, box.maxY].map((mm) => Math.round(mm * 1e9) / 1e9),
    ).toEqual([-40, 5, -30, 15]);
    expect(pathLength(path)).toBeCloseTo(5 * Math.PI, 9);
  });
});

describe("ellipses", () => {
  it("have the circumference of the arithmetic-geometric mean and the area pi a b", () => {
    for (let size = 1; size <= 12; size++) {
      const [a, b] = [9 * size, 4 + 2 * size];
      const angle = 0.3 * size;
      const [x, y] = [a * Math.cos(angle), a * Math.sin(angle)];
      const { areaMm2, cutLengthMm } = readPart(
        dxf(entity("ELLIPSE", 10, 7, 20, 8, 11, x, 21, y, 40, b / a, 41, 0, 42, 6.283185307179586)),
      );
      expect(Math.abs(cutLengthMm / ellipseLength(a, b) - 1)).toBeLessThan(1e-7);
      expect(Math.abs(areaMm2 / (Math.PI * a * b) - 1)).toBeLessThan(1e-7);
    }
  });

  it("in part begin and end where their parameters say", () => {
    const path = scored("ELLIPSE", 10, 0, 20, 0, 11, 40, 21, 0, 40, 0.5, 41, 5.5, 42, 1.25);
    const end = path.segments.at(-1)?.to;
    expect(path.start.x).toBeCloseTo(40 * Math.cos(5.5), 9);
    expect(path.start.y).toBeCloseTo(20 * Math.sin(5.5), 9);
    expect(end?.x).toBeCloseTo(40 * Math.cos(1.25), 9);
    expect(end?.y).toBeCloseTo(20 * Math.sin(1.25), 9);
    // Simpson's rule on the speed over the parameter, from 5.5 across the turn to 1.25.
    expect(pathLength(path)).toBeCloseTo(simpson(ellipseSpeed, 5.5, 1.25 + 2 * Math.PI), 4);
  });

  it("seen from below turn the other way, and those of ratio 1 are circles", () => {
    const path = scored(
      ...(["ELLIPSE", 10, 0, 20, 0, 11, 40, 21, 0, 40, 0.5, 41, 0, 42, 1.5] as const),
      ...([210, 0, 220, 0, 230, -1] as const),
    );
    expect(path.start).toMatchObject({ x: 40, y: 0 });
    expect(path.segments.at(-1)?.to.y).toBeCloseTo(-20 * Math.sin(1.5), 9);
    const { outline, areaMm2 } = readPart(
      dxf(entity("ELLIPSE", 10, 1, 20, 2, 11, 3, 21, 4, 40, 1)),
    );
    expect(outline.segments.map(({ kind }) => kind)).toEqual(["arc", "arc"]);
    expect(areaMm2).toBeCloseTo(25 * Math.PI, 9);
  });
});

describe("lines", () => {
  it("and arcs that meet are one contour, in whatever order and sense they are drawn", () => {
    // A slot of 40 between centres and 10 wide; gaps of up to 0.03 mm.
    const text = dxf(
      line(0, 0, 40, 0.02) +
        entity("ARC", 10, 0, 20, 5, 40, 5, 50, 90, 51, 270) +
        line(40, 10, 0.01, 10) +
        entity("ARC", 10, 40, 20, 5, 40, 5, 50, 270, 51, 90),
    );
    const { areaMm2, cutLengthMm } = readPart(text);
    expect(Math.abs(areaMm2 - (400 + 25 * Math.PI))).toBeLessThan(0.5);
    expect(Math.abs(cutLengthMm - (80 + 10 * Math.PI))).toBeLessThan(0.1);
  });
});

/** Of the ellipse 40 x 20 over its parameter. */
function ellipseSpeed(t: number): number {
  return Math.hypot(40 * Math.sin(t), 20 * Math.cos(t));
}

function simpson(f: (t: number) => number, from: number, to: number): number {
  const steps = 2000;
  const h = (to - from) / steps;
  let sum = f(from) + f(to);
  for (let i = 1; i < steps; i++) sum += (i % 2 === 1 ? 4 : 2) * f(from + i * h);
  return (sum * h) / 3;
}
