import type { Path } from "../../geometry/types.ts";
import { readArc, readCircle, readEllipse, readLine } from "./curves.ts";
import type { Entity } from "./document.ts";
import type { Fields } from "./fields.ts";
import { isSpatial, readHeavyPolyline, readLightPolyline } from "./polylines.ts";
import { readSpline } from "./splines.ts";

type Reader = (fields: Fields, entity: Entity, tolerance: number) => readonly Path[];

const READERS: ReadonlyMap<string, Reader> = new Map<string, Reader>([
  ["LINE", (fields) => [readLine(fields)]],
  ["CIRCLE", (fields) => [readCircle(fields)]],
  ["ARC", (fields) => [readArc(fields)]],
  ["ELLIPSE", (fields) => [readEllipse(fields)]],
  ["LWPOLYLINE", readLightPolyline],
  ["POLYLINE", (fields, { parts }) => readHeavyPolyline(fields, parts)],
  ["SPLINE", (fields, _, tolerance) => readSpline(fields, tolerance)],
]);

/** Null for entities that are no lines in the plane. */
export function readerOf({ record }: Entity): Reader | null {
  if (record.type === "POLYLINE" && isSpatial(record)) return null;
  return READERS.get(record.type) ?? null;
}

/** Groups of a polyline's width: of all its sides, or of each at its start and its end. */
const WIDTHS: readonly number[] = [40, 41, 43];

/** Whether a polyline is drawn as a band, of which only the middle is worked. */
export function isBand({ record, parts }: Entity, fields: Fields): boolean {
  if (!record.type.endsWith("POLYLINE")) return false;
  const own = WIDTHS.some((code) => fields.all(code).some((width) => width > 0));
  return (
    own ||
    parts.some(({ codes, values }) =>
      codes.some((code, index) => WIDTHS.includes(code) && Number(values[index]) > 0),
    )
  );
}
