import { legPoint } from "../geometry/leg.ts";
import type { PartGeometry } from "../drawing/types.ts";
import type { NestedStock, TimedStock } from "../estimate-data.ts";
import { arcCubics } from "../geometry/affine.ts";
import { arcPoint } from "../geometry/arc.ts";
import { legsOf } from "../geometry/path.ts";
import type { Leg } from "../geometry/path.ts";
import type { Path, Point, Ring } from "../geometry/types.ts";
import type { Operation } from "../job/types.ts";
import type { OrderedPath } from "../machine/types.ts";
import { printable } from "../problem.ts";
import { trimmed } from "../units.ts";
import { dxfDocument, dxfText } from "./dxf-document.ts";
import type { Entity, Group, Layer } from "./dxf-document.ts";
import { layoutOf, leftoverCaption } from "./layout.ts";
import type { Caption, Label, Layout, Rectangle } from "./layout.ts";

/**
 * One sheet as DXF (release 2000) at true size in mm, a layer for each operation, and SHEET,
 * LABEL and LEFTOVER that are not for the machine. Every contour is one entity: a polyline with bulges where it
 * has only lines and arcs, and then exact; a spline of degree 3 where it has cubics, exact but for
 * its arcs, which depart by less than 1e-7 of their radius. Each carries part and copy as extended
 * data of the application TALLYWRIGHT.
 * @throws RangeError as {@link layoutOf}.
 */
export function layoutDxf(
  stock: NestedStock | TimedStock,
  sheetIndex: number,
  geometry: ReadonlyMap<string, PartGeometry>,
): string {
  return drawingDxf(layoutOf(stock, sheetIndex, geometry));
}

/** Anything that is laid out for the machine, likewise. */
export function drawingDxf(layout: Layout): string {
  const entities = [
    ...sheetEntities(layout),
    ...(layout.offcut === null ? [] : [captionEntity("SHEET", layout.offcut)]),
    ...layout.paths.map(contourEntity),
    ...layout.labels.map(labelEntity),
    ...(layout.leftover === null ? [] : leftoverEntities(layout.leftover)),
  ];
  return dxfDocument(APPLICATION, LAYERS, entities, layout);
}

const APPLICATION = "TALLYWRIGHT";

const LAYER_OF: Readonly<Record<Operation, string>> = {
  cut: "CUT",
  score: "SCORE",
  engrave: "ENGRAVE",
};

/** Colours of the DXF colour table: black (white on black), and muted ones. */
const LAYERS: readonly Layer[] = [
  { name: "CUT", colour: 7, plotted: true },
  { name: "SCORE", colour: 134, plotted: true },
  { name: "ENGRAVE", colour: 43, plotted: true },
  { name: "SHEET", colour: 8, plotted: false },
  { name: "LABEL", colour: 9, plotted: false },
  { name: "LEFTOVER", colour: 8, plotted: false, dashed: true },
];

function boxEntity(layer: string, { xMm, yMm, widthMm, heightMm }: Rectangle): Entity {
  const corners = [
    { x: xMm, y: yMm },
    { x: xMm + widthMm, y: yMm },
    { x: xMm + widthMm, y: yMm + heightMm },
    { x: xMm, y: yMm + heightMm },
  ];
  return ringEntity(layer, corners);
}

function ringEntity(layer: string, ring: Ring): Entity {
  const vertices = ring.map((point) => ({ point, bulge: 0 }));
  return { type: "LWPOLYLINE", layer, groups: polyline(vertices, true) };
}

function sheetEntities(layout: Layout): Entity[] {
  const { outline } = layout;
  if (outline === null) return [boxEntity("SHEET", { xMm: 0, yMm: 0, ...layout })];
  return [outline.outer, ...outline.holes].map((ring) => ringEntity("SHEET", ring));
}

function leftoverEntities(leftover: Rectangle): Entity[] {
  return [boxEntity("LEFTOVER", leftover), captionEntity("LEFTOVER", leftoverCaption(leftover))];
}

function captionEntity(layer: string, caption: Caption): Entity {
  return { type: "TEXT", layer, groups: textGroups(caption) };
}

function contourEntity({ operation, part, copy, path }: OrderedPath): Entity {
  const curved = path.segments.some(({ kind }) => kind === "cubic");
  const groups = curved ? spline(path) : polyline(vertices(path), path.closed);
  return {
    type: curved ? "SPLINE" : "LWPOLYLINE",
    layer: LAYER_OF[operation],
    groups: [...groups, ...traced(part, copy)],
  };
}

interface Vertex {
  readonly point: Point;
  /** Of the side that starts here: the tangent of a quarter of its sweep. */
  readonly bulge: number;
}

/** Where sides start, and for an open path where it ends. */
function vertices(path: Path): Vertex[] {
  const starts = legsOf(path).flatMap(legVertices);
  const end = path.segments.at(-1)?.to;
  return path.closed || end === undefined ? starts : [...starts, { point: end, bulge: 0 }];
}

/** Arcs over more than half a turn in two: a full turn has no bulge. */
function legVertices({ from, segment }: Leg): Vertex[] {
  if (segment.kind !== "arc") return [{ point: from, bulge: 0 }];
  const pieces = Math.abs(segment.sweepRad) > Math.PI * (1 + 1e-9) ? 2 : 1;
  const bulge = Math.tan(segment.sweepRad / pieces / 4);
  return Array.from({ length: pieces }, (_, index) => ({
    point: arcPoint(from, segment, index / pieces),
    bulge,
  }));
}

function polyline(vertices: readonly Vertex[], closed: boolean): Group[] {
  return [
    [100, "AcDbPolyline"],
    [90, vertices.length],
    [70, closed ? 1 : 0],
    [43, 0],
    ...vertices.flatMap(({ point, bulge }): Group[] => [
      ...at(10, point).slice(0, 2),
      ...(bulge === 0 ? [] : ([[42, trimmed(bulge, 12)]] as const)),
    ]),
  ];
}

/** Pieces of three control points after the first, each with a threefold knot at its end. */
function spline(path: Path): Group[] {
  const controls = [path.start, ...legsOf(path).flatMap(legControls)];
  const pieces = (controls.length - 1) / 3;
  const inner = Array.from({ length: pieces + 1 }, (_, index) => [index, index, index]).flat();
  const knots = [0, ...inner, pieces];
  return [
    [100, "AcDbSpline"],
    [210, 0],
    [220, 0],
    [230, 1],
    [70, PLANAR + (path.closed ? CLOSED : 0)],
    [71, 3],
    [72, knots.length],
    [73, controls.length],
    [74, 0],
    ...knots.map((knot): Group => [40, knot]),
    ...controls.flatMap((point) => at(10, point)),
  ];
}

const CLOSED = 1;
const PLANAR = 8;

function legControls({ from, segment }: Leg): Point[] {
  if (segment.kind === "cubic") return [segment.control1, segment.control2, segment.to];
  if (segment.kind === "arc") {
    return arcCubics(from, segment).flatMap(({ control1, control2, to }) => [
      control1,
      control2,
      to,
    ]);
  }
  const leg = { from, segment };
  return [legPoint(leg, 1 / 3), legPoint(leg, 2 / 3), segment.to];
}

function labelEntity({ part, copy, ...caption }: Label): Entity {
  return {
    type: "TEXT",
    layer: "LABEL",
    groups: [...textGroups(caption), ...traced(part, copy)],
  };
}

function textGroups({ text, centre, heightMm }: Caption): Group[] {
  return [
    [100, "AcDbText"],
    ...at(10, centre),
    // A DXF height is that of capitals.
    [40, trimmed(heightMm * 0.7, 4)],
    [1, dxfText(text)],
    [72, 1],
    ...at(11, centre),
    [100, "AcDbText"],
    [73, 2],
  ];
}

/** Extended data: text of at most 255 characters, and a whole number. */
function traced(part: string, copy: number): Group[] {
  return [
    [1001, APPLICATION],
    [1000, dxfText(printable(part)).slice(0, 255)],
    [1071, copy],
  ];
}

/** A point under the codes `code`, `code + 10` and `code + 20`. */
function at(code: number, { x, y }: Point): Group[] {
  return [
    [code, trimmed(x, 8)],
    [code + 10, trimmed(y, 8)],
    [code + 20, 0],
  ];
}
