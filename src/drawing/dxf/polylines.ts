import { applyToPath } from "../../geometry/affine.ts";
import { distance, samePoint } from "../../geometry/point.ts";
import type { Path, Point, Segment } from "../../geometry/types.ts";
import type { Fault } from "../../problem.ts";
import { Fields } from "./fields.ts";
import { readExtrusion, reportSlope } from "./flatness.ts";
import type { DxfRecord } from "./records.ts";

/** LWPOLYLINE and the older POLYLINE with its VERTEX records, in drawing units. */

interface Vertex {
  readonly point: Point;
  /** Of the side that starts here: the tangent of a quarter of its sweep. */
  readonly bulge: number;
}

const CLOSED = 1;

export function readLightPolyline(fields: Fields): Path[] {
  const vertices: { x: number; y: number; bulge: number }[] = [];
  for (const [index, code] of fields.codes.entries()) {
    if (code === 10) vertices.push({ x: fields.numberAt(index), y: 0, bulge: 0 });
    const last = vertices.at(-1);
    if (last === undefined) continue;
    if (code === 20) last.y = fields.numberAt(index);
    if (code === 42) last.bulge = fields.numberAt(index);
  }
  if (fields.all(20).length !== vertices.length) fields.wrong(10, uneven("an x or a y is missing"));
  const said = fields.number(90, vertices.length);
  if (said !== vertices.length) fields.wrong(90, uneven(`${vertices.length} of ${said} vertices`));
  const placed = vertices.map(({ x, y, bulge }) => ({ point: { x, y }, bulge }));
  const path = throughVertices(placed, (fields.flags(70) & CLOSED) !== 0);
  const matrix = readExtrusion(fields);
  return path === null ? [] : [applyToPath(matrix, path)];
}

const KINDS = 8 + 16 + 64;

/** Whether a POLYLINE is one in space or a mesh. */
export function isSpatial(record: DxfRecord): boolean {
  return (new Fields(record).flags(70) & KINDS) !== 0;
}

/** The frame of a POLYLINE that was made to follow a spline, not a part of its line. */
const FRAME_POINT = 16;

/** @param vertices records of the POLYLINE's vertices. */
export function readHeavyPolyline(fields: Fields, vertices: readonly DxfRecord[]): Path[] {
  const matrix = readExtrusion(fields);
  const heights: number[] = [];
  const placed = vertices.flatMap((record): Vertex[] => {
    const own = new Fields(record);
    if (record.type !== "VERTEX" || (own.flags(70) & FRAME_POINT) !== 0) return [];
    heights.push(...own.all(30));
    const vertex = { point: own.point(10), bulge: own.number(42, 0) };
    fields.faults.push(...own.faults);
    return [vertex];
  });
  reportSlope(fields, heights);
  const path = throughVertices(placed, (fields.flags(70) & CLOSED) !== 0);
  return path === null ? [] : [applyToPath(matrix, path)];
}

/** Null without a side. */
function throughVertices(vertices: readonly Vertex[], closed: boolean): Path | null {
  const [first, ...rest] = vertices;
  if (first === undefined || rest.length === 0) return null;
  const stops = closed ? [...rest, first] : rest;
  const segments = stops.flatMap(({ point }, index): Segment[] => {
    const from = vertices[index];
    return from === undefined ? [] : side(from, point);
  });
  return segments.length === 0 ? null : { start: first.point, segments, closed };
}

/** Drawing units; an arc that rises less above its chord is a line. */
const STRAIGHT = 1e-7;

/**
 * DXF reference, LWPOLYLINE: the bulge b is the tangent of a quarter of the sweep, positive
 * counter-clockwise. The rise above the chord c is b c / 2, and the centre lies
 * (1 - b^2) / (4 b) chords to the left of the chord's middle.
 */
function side({ point: from, bulge }: Vertex, to: Point): Segment[] {
  if (samePoint(from, to)) return [];
  if ((Math.abs(bulge) * distance(from, to)) / 2 < STRAIGHT) return [{ kind: "line", to }];
  const left = (1 - bulge * bulge) / (4 * bulge);
  const centre = {
    x: (from.x + to.x) / 2 - left * (to.y - from.y),
    y: (from.y + to.y) / 2 + left * (to.x - from.x),
  };
  return [{ kind: "arc", to, centre, sweepRad: 4 * Math.atan(bulge) }];
}

function uneven(found: string): Fault {
  return {
    code: "dxf-vertices",
    found,
    expected: "as many vertices as the polyline says, each with x and y",
    mend: "Draw the polyline again, or save the drawing again",
  };
}
