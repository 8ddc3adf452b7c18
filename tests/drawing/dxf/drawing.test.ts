import { createRequire } from "node:module";
import type {
  DxfParser,
  IArcEntity,
  ICircleEntity,
  IEllipseEntity,
  IEntity,
  ILineEntity,
  ILwpolylineEntity,
} from "dxf-parser";
import { describe, expect, it } from "vitest";
import { dxfLines, readDxf } from "../../../src/drawing/dxf/drawing.ts";
import { layoutDxf } from "../../../src/exports/layout-dxf.ts";
import { pathArea, pathEnd, pathLength } from "../../../src/geometry/path.ts";
import { posePath } from "../../../src/geometry/pose.ts";
import { pointInRing } from "../../../src/geometry/ring.ts";
import type { Path, Point } from "../../../src/geometry/types.ts";
import { GEOMETRY, PLACEMENTS, STOCK } from "../../exports/layout-sample.ts";
import { page, readOne, rule } from "../reading.ts";
import { dxf, entity, line, polygon, readPart } from "./dxf-text.ts";

const CELL = { file: "parts.csv", line: 2, column: "drawing" };

function pathsOf(text: string): readonly Path[] {
  const { value, problems } = readDxf("a.dxf", text);
  expect(problems).toEqual([]);
  if (value === null) throw new RangeError("not read");
  return dxfLines(value, null, [], CELL).value?.lines.map(({ path }) => path) ?? [];
}

describe("an asymmetric drawing", () => {
  // An F, 40 x 60, its foot at y 40 of a page of 200 x 100 mm, with a hole high up in the stem.
  const svg = readOne(
    page(
      `<path d="M0 0h40v12h-28v12h20v8a4 4 0 0 1-4 4h-16v24h-12z"/><circle cx="6" cy="6" r="3"/>`,
    ),
  );
  const quarter = -Math.tan(Math.PI / 8);
  const twin = readPart(
    dxf(
      entity(
        "LWPOLYLINE",
        [90, 11, 70, 1, 10, 0, 20, 100, 10, 40, 20, 100, 10, 40, 20, 88, 10, 12, 20, 88],
        [10, 12, 20, 76, 10, 32, 20, 76, 10, 32, 20, 68, 42, quarter, 10, 28, 20, 64],
        [10, 12, 20, 64, 10, 12, 20, 40, 10, 0, 20, 40],
      ) + entity("CIRCLE", 10, 6, 20, 94, 40, 3),
    ),
  );

  it("lies as it is seen, not mirrored", () => {
    const holds = (x: number, y: number): boolean => pointInRing({ x, y }, twin.region.outer);
    expect(holds(30, 95)).toBe(true);
    expect(holds(25, 70)).toBe(true);
    expect(holds(6, 45)).toBe(true);
    expect(holds(30, 45)).toBe(false);
    expect(holds(37, 70)).toBe(false);
    expect(twin.roundHoles).toEqual([{ diameterMm: 6, centre: { x: 6, y: 94 } }]);
  });

  it("is the same part as its twin in SVG", () => {
    expect(twin.areaMm2).toBeCloseTo(svg.areaMm2, 8);
    expect(twin.cutLengthMm).toBeCloseTo(svg.cutLengthMm, 8);
    const corners = ({ outline }: typeof svg): string[] =>
      [outline.start, ...outline.segments.map(({ to }) => to)]
        .map(({ x, y }) => `${x.toFixed(6)} ${y.toFixed(6)}`)
        .toSorted();
    expect(new Set(corners(twin))).toEqual(new Set(corners(svg)));
  });
});

/** The package's bundle is the class itself, though its types export it by name. */
const Parser: typeof DxfParser = createRequire(import.meta.url)("dxf-parser");

describe("thirty generated drawings, as dxf-parser reads them", () => {
  const drawings = Array.from({ length: 30 }, (_, index) => generated(index));

  it("have the same ends and lengths, entity by entity", () => {
    let compared = 0;
    for (const text of drawings) {
      const paths = pathsOf(text);
      const others = new Parser().parseSync(text)?.entities ?? [];
      expect(paths).toHaveLength(others.length);
      for (const [index, path] of paths.entries()) {
        const other = measured(others[index]);
        expect(Math.abs(pathLength(path) - other.length)).toBeLessThan(1e-6 * other.length);
        expect(Math.hypot(path.start.x - other.start.x, path.start.y - other.start.y)).toBeLessThan(
          1e-9,
        );
        const end = pathEnd(path);
        expect(Math.hypot(end.x - other.end.x, end.y - other.end.y)).toBeLessThan(1e-9);
        compared++;
      }
    }
    expect(compared).toBe(30 * 6);
  });
});

/** One entity of each kind that dxf-parser reads soundly; angles across 0 degrees are not among them. */
function generated(seed: number): string {
  const at = (step: number): number => ((seed * 37 + step * 101) % 977) / 4 - 100;
  const angle = (step: number): number => (seed * 11 + step * 29) % 170;
  return dxf(
    line(at(1), at(2), at(3), at(4)) +
      entity("CIRCLE", 10, at(5), 20, at(6), 40, 1 + seed) +
      entity("ARC", 10, at(7), 20, at(8), 40, 2 + seed, 50, angle(1), 51, angle(2) + 180) +
      entity(
        "ELLIPSE",
        [10, at(9), 20, at(10), 11, 20 + seed, 21, seed - 15, 40, 0.2 + seed / 50],
        [41, 0.1 * (seed % 9), 42, 2 + 0.1 * seed],
      ) +
      polygon([
        [at(11), at(12)],
        [at(13), at(14)],
        [at(15), at(16)],
      ]) +
      entity(
        "LWPOLYLINE",
        [90, 3, 70, 0, 10, at(17), 20, at(18), 42, (seed - 14.5) / 10],
        [10, at(19), 20, at(20), 10, at(21), 20, at(22)],
      ),
  );
}

interface Measured {
  readonly start: Point;
  readonly end: Point;
  readonly length: number;
}

interface Kinds {
  readonly LINE: ILineEntity;
  readonly LWPOLYLINE: ILwpolylineEntity;
  readonly CIRCLE: ICircleEntity & { readonly radius: number };
  readonly ARC: IArcEntity;
  readonly ELLIPSE: IEllipseEntity;
}

function isType<K extends keyof Kinds>(read: IEntity, type: K): read is Kinds[K] {
  return read.type === type;
}

/** What dxf-parser's values come to. */
function measured(read: IEntity | undefined): Measured {
  if (read === undefined) throw new RangeError("no entity");
  if (isType(read, "LINE")) return chain(read.vertices, false);
  if (isType(read, "LWPOLYLINE")) return chain(read.vertices, read.shape);
  if (isType(read, "CIRCLE")) {
    const right = { x: read.center.x + read.radius, y: read.center.y };
    return { start: right, end: right, length: 2 * Math.PI * read.radius };
  }
  if (isType(read, "ARC")) {
    const { center, radius, startAngle, endAngle } = read;
    const on = (turn: number): Point => ({
      x: center.x + radius * Math.cos(turn),
      y: center.y + radius * Math.sin(turn),
    });
    return { start: on(startAngle), end: on(endAngle), length: radius * (endAngle - startAngle) };
  }
  if (!isType(read, "ELLIPSE")) throw new RangeError(read.type);
  const { center, majorAxisEndPoint: axis, axisRatio, startAngle, endAngle } = read;
  const on = (t: number): Point => ({
    x: center.x + axis.x * Math.cos(t) - axis.y * axisRatio * Math.sin(t),
    y: center.y + axis.y * Math.cos(t) + axis.x * axisRatio * Math.sin(t),
  });
  const chords = Array.from({ length: 20_000 }, (_, index) => {
    const step = (endAngle - startAngle) / 20_000;
    const [a, b] = [on(startAngle + index * step), on(startAngle + (index + 1) * step)];
    return Math.hypot(b.x - a.x, b.y - a.y);
  });
  const length = chords.reduce((sum, chord) => sum + chord, 0);
  return { start: on(startAngle), end: on(endAngle), length };
}

/** An arc over the chord c with the bulge b has the radius c (1 + b^2) / 4b. */
function chain(vertices: readonly (Point & { bulge?: number })[], closed: boolean): Measured {
  const [start] = vertices;
  const last = vertices.at(-1);
  if (start === undefined || last === undefined) throw new RangeError("no vertices");
  const ends = closed ? [...vertices.slice(1), start] : vertices.slice(1);
  const length = ends.reduce((sum, end, index) => {
    const from = vertices[index] ?? start;
    const [chord, bulge] = [Math.hypot(end.x - from.x, end.y - from.y), Math.abs(from.bulge ?? 0)];
    if (bulge === 0) return sum + chord;
    return sum + ((chord * (1 + bulge * bulge)) / (4 * bulge)) * 4 * Math.atan(bulge);
  }, 0);
  return { start, end: closed ? start : last, length };
}

describe("our own layouts", () => {
  it("read back give the areas and lengths that were written, for each operation", () => {
    const { value } = readDxf("layout.dxf", layoutDxf(STOCK, 0, GEOMETRY));
    if (value === null) throw new RangeError("the layout was not read");
    const rules = [rule("layer", "SCORE", "score"), rule("layer", "ENGRAVE", "engrave")];
    const read = dxfLines(value, null, rules, CELL);
    // The sheet's edge and the labels are not plotted: left out, and said so.
    expect(read.problems.map(({ code, column }) => [code, column])).toEqual([
      ["dxf-hidden", "SHEET"],
      ["dxf-hidden", "LABEL"],
    ]);
    const written = PLACEMENTS.flatMap((placement) => {
      const geometry = GEOMETRY.get(placement.part);
      if (geometry === undefined) throw new RangeError(placement.part);
      const { outline, holes, scores, engravings } = geometry;
      return [
        ...engravings.map((path) => ({ operation: "engrave", path: posePath(placement, path) })),
        ...scores.map((path) => ({ operation: "score", path: posePath(placement, path) })),
        ...[...holes, outline].map((path) => ({
          operation: "cut",
          path: posePath(placement, path),
        })),
      ];
    });
    const lines = read.value?.lines ?? [];
    expect(lines.map(({ operation }) => operation)).toEqual(
      written.map(({ operation }) => operation),
    );
    expect(lines.length).toBeGreaterThan(10);
    for (const [index, { path }] of lines.entries()) {
      const original = written[index]?.path;
      if (original === undefined) throw new RangeError("no such line");
      expect(pathLength(path)).toBeCloseTo(pathLength(original), 4);
      expect(pathArea(path)).toBeCloseTo(pathArea(original), 3);
    }
  });
});
