import { createRequire } from "node:module";
import type { DxfParser, IEntity, ILwpolylineEntity, ISplineEntity } from "dxf-parser";
import { describe, expect, it } from "vitest";
import { layoutDxf } from "../../src/exports/layout-dxf.ts";
import { pathArea } from "../../src/geometry/path.ts";
import { posePath, posePoint } from "../../src/geometry/pose.ts";
import type { Path, Point } from "../../src/geometry/types.ts";
import { GEOMETRY, LEFT, NASTY_NAME, OFFCUT, PLACEMENTS, STOCK } from "./layout-sample.ts";

const text = layoutDxf(STOCK, 0, GEOMETRY);
/** The package's bundle is the class itself, though its types export it by name. */
const Parser: typeof DxfParser = createRequire(import.meta.url)("dxf-parser");
const parsed = new Parser().parseSync(text)!;
const contours = parsed.entities.filter(isContour).filter(({ layer }) => layer !== "SHEET");

/** What should be there, in order. */
const expected = PLACEMENTS.flatMap((placement) => {
  const { outline, holes, scores, engravings } = GEOMETRY.get(placement.part)!;
  const all = [
    ...engravings.map((path) => ({ layer: "ENGRAVE", path })),
    ...scores.map((path) => ({ layer: "SCORE", path })),
    ...[...holes, outline].map((path) => ({ layer: "CUT", path })),
  ];
  return all.map((each) => ({ ...each, placement }));
});

describe("layoutDxf, as read by dxf-parser", () => {
  it("says that it is in mm, and how large the sheet is", () => {
    expect(parsed.header).toMatchObject({ $ACADVER: "AC1015", $INSUNITS: 4, $MEASUREMENT: 1 });
    const sheet = parsed.entities.filter(isContour).filter(({ layer }) => layer === "SHEET");
    expect(sheet).toHaveLength(1);
    expect(stationsOf(sheet[0]!).map(({ x, y }) => [x, y])).toEqual([
      [0, 0],
      [200, 0],
      [200, 150],
      [0, 150],
    ]);
  });

  it("has a layer for each operation, and one entity for each contour", () => {
    const layers = Object.keys(parsed.tables.layer.layers).toSorted();
    expect(layers).toEqual(["0", "CUT", "ENGRAVE", "LABEL", "LEFTOVER", "SCORE", "SHEET"]);
    expect(contours.map(({ layer }) => layer)).toEqual(expected.map(({ layer }) => layer));
    const closed = contours.map((entity) =>
      "shape" in entity ? entity.shape : closedSpline(entity),
    );
    expect(closed).toEqual(expected.map(({ path }) => path.closed));
  });

  it("shows each copy as it lies on the sheet, never its mirror image", () => {
    let judged = 0;
    for (const [index, { placement, path }] of expected.entries()) {
      const stations = stationsOf(contours[index]!);
      for (const point of [path.start, ...path.segments.map(({ to }) => to)]) {
        judged += 1;
        const posed = posePoint(placement, point);
        const nearest = Math.min(
          ...stations.map(({ x, y }) => Math.hypot(x - posed.x, y - posed.y)),
        );
        expect(nearest).toBeLessThan(1e-6);
      }
      // Signed: a mirrored contour runs the other way, and nothing else may change.
      expect(areaOf(contours[index]!)).toBeCloseTo(pathArea(posePath(placement, path)), 3);
    }
    expect(judged).toBeGreaterThan(40);
  });

  it("uses splines only where there are cubics", () => {
    expect(contours.map(({ type }) => type === "SPLINE")).toEqual(
      expected.map(({ path }) => hasCubics(path)),
    );
    for (const entity of contours.filter(isSpline)) {
      expect(entity.degreeOfSplineCurve).toBe(3);
      expect(entity.numberOfControlPoints).toBe(entity.controlPoints!.length);
      expect(entity.numberOfKnots).toBe(entity.knotValues.length);
      expect(entity.numberOfKnots).toBe(entity.numberOfControlPoints + 4);
      // Clamped, with threefold knots between the pieces: each piece is a cubic of its own.
      const pieces = (entity.numberOfControlPoints - 1) / 3;
      const threefold = Array.from({ length: pieces + 1 }, (_, knot) => [knot, knot, knot]).flat();
      expect(entity.knotValues).toEqual([0, ...threefold, pieces]);
    }
  });

  it("carries part and copy as extended data, and as labels that are not for the machine", () => {
    const ascii = NASTY_NAME.replace("é", "\\U+00E9");
    const traced = [
      ...text.matchAll(/\r\n1001\r\nTALLYWRIGHT\r\n1000\r\n(.*)\r\n1071\r\n(\d+)\r\n/g),
    ];
    const named = ({ part, copy }: { part: string; copy: number }): string =>
      `${part === NASTY_NAME ? ascii : part} ${copy}`;
    expect(traced.map(([, part, copy]) => `${part} ${copy}`)).toEqual([
      ...expected.map(({ placement }) => named(placement)),
      ...PLACEMENTS.map(named),
    ]);
    const labels = parsed.entities.filter(({ type }) => type === "TEXT");
    expect(labels.map(({ layer }) => layer)).toEqual(PLACEMENTS.map(() => "LABEL"));
  });

  it("shows what is left in one piece on a dashed layer that is not plotted", () => {
    const left = layoutDxf(LEFT, 0, GEOMETRY);
    const shown = new Parser().parseSync(left)!;
    const its = shown.entities.filter(({ layer }) => layer === "LEFTOVER");
    expect(its.map(({ type }) => type)).toEqual(["LWPOLYLINE", "TEXT"]);
    expect(stationsOf(its.find(isContour)!).map(({ x, y }) => [x, y])).toEqual([
      [110, 80.5],
      [195, 80.5],
      [195, 140.7],
      [110, 140.7],
    ]);
    expect(left).toContain(
      "\r\n2\r\nLEFTOVER\r\n70\r\n0\r\n62\r\n8\r\n6\r\nDashed\r\n290\r\n0\r\n",
    );
    expect(shown.tables.lineType.lineTypes["Dashed"]?.patternLength).toBe(6);
    expect(shown.entities.filter(({ layer }) => layer !== "LEFTOVER")).toHaveLength(
      parsed.entities.length,
    );
  });

  it("names an offcut on the layer of its outline, which is not plotted", () => {
    const shown = new Parser().parseSync(layoutDxf(OFFCUT, 0, GEOMETRY))!;
    const its = shown.entities.filter(({ layer }) => layer === "SHEET");
    expect(its.map(({ type }) => type)).toEqual(["LWPOLYLINE", "TEXT"]);
    expect(its[1]).toMatchObject({
      text: "offcut small, 200 x 150 mm",
      endPoint: { x: 100, y: 2.5 },
    });
  });

  it("is plain ASCII with every handle used once", () => {
    expect(text).toMatch(/^[\r\n\u0020-\u007e]*$/);
    const lines = text.split("\r\n");
    const handles = lines.filter((_, index) => {
      const code = lines[index - 1]?.trim();
      return index % 2 === 1 && (code === "5" || code === "105");
    });
    expect(handles.length).toBeGreaterThan(contours.length + 20);
    expect(new Set(handles).size).toBe(handles.length);
  });
});

type Contour = ILwpolylineEntity | ISplineEntity;

function isContour(entity: IEntity): entity is Contour {
  return entity.type === "LWPOLYLINE" || entity.type === "SPLINE";
}

function isSpline(entity: Contour): entity is ISplineEntity {
  return entity.type === "SPLINE";
}

function hasCubics({ segments }: Path): boolean {
  return segments.some(({ kind }) => kind === "cubic");
}

function closedSpline({ closed, controlPoints }: ISplineEntity): boolean {
  const [first, last] = [controlPoints!.at(0)!, controlPoints!.at(-1)!];
  return closed && Math.hypot(first.x - last.x, first.y - last.y) < 1e-9;
}

/** Points that the contour is sure to pass: vertices, or ends of a spline's pieces. */
function stationsOf(entity: Contour): readonly Point[] {
  if ("vertices" in entity) return entity.vertices;
  return entity.controlPoints!.filter((_, index) => index % 3 === 0);
}

function areaOf(entity: Contour): number {
  if ("vertices" in entity) return bulgedArea(entity.vertices);
  return polygonArea(splinePoints(entity.controlPoints!));
}

/** The polygon, and between each chord c and its arc r2/2 (s - sin s), s = 4 atan(b). DXF reference. */
function bulgedArea(vertices: readonly (Point & { bulge?: number })[]): number {
  return vertices.reduce((sum, a, index) => {
    const b = vertices[(index + 1) % vertices.length]!;
    const sweep = 4 * Math.atan(a.bulge ?? 0);
    if (sweep === 0) return sum;
    const radius = Math.hypot(b.x - a.x, b.y - a.y) / 2 / Math.sin(sweep / 2);
    return sum + (radius ** 2 * (sweep - Math.sin(sweep))) / 2;
  }, polygonArea(vertices));
}

const PIECE = 2000;

/** Each piece by repeated halving of ratios (de Casteljau), 2000 points a piece. */
function splinePoints(controls: readonly Point[]): Point[] {
  return Array.from({ length: ((controls.length - 1) / 3) * PIECE }, (_, index) => {
    const first = 3 * Math.floor(index / PIECE);
    const t = (index % PIECE) / PIECE;
    let points = controls.slice(first, first + 4);
    while (points.length > 1) {
      points = points.slice(1).map((b, i) => {
        const a = points[i]!;
        return { x: a.x + t * (b.x - a.x), y: a.y + t * (b.y - a.y) };
      });
    }
    return points[0]!;
  });
}

function polygonArea(points: readonly Point[]): number {
  return points.reduce((sum, a, index) => {
    const b = points[(index + 1) % points.length]!;
    return sum + (a.x * b.y - b.x * a.y) / 2;
  }, 0);
}
