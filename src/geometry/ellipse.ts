import { applyToPath } from "./affine.ts";
import { samePoint } from "./point.ts";
import type { Point, Segment } from "./types.ts";

/** SVG's way of giving an elliptical arc: by its ends. */
export interface EndpointArc {
  readonly radiusX: number;
  readonly radiusY: number;
  /** Angle of the x radius, degrees, counted from x towards y. */
  readonly rotationDeg: number;
  readonly largeArc: boolean;
  /** Whether the angle grows, from x towards y. */
  readonly sweep: boolean;
  readonly to: Point;
}

/**
 * Segments of an elliptical arc by SVG 1.1 appendix F.6, radii that are too small enlarged as said
 * there: one arc when the radii are equal, else cubics within 1e-7 of the radius; a line when a
 * radius is zero, nothing when the ends fall together.
 */
export function endpointArc(from: Point, arc: EndpointArc): readonly Segment[] {
  const { to } = arc;
  if (samePoint(from, to)) return [];
  if (arc.radiusX === 0 || arc.radiusY === 0) return [{ kind: "line", to }];
  const angle = (arc.rotationDeg * Math.PI) / 180;
  const [cosine, sine] = [Math.cos(angle), Math.sin(angle)];
  const half = { x: (from.x - to.x) / 2, y: (from.y - to.y) / 2 };
  const turned = { x: cosine * half.x + sine * half.y, y: cosine * half.y - sine * half.x };
  const unscaledX = Math.abs(arc.radiusX);
  const unscaledY = Math.abs(arc.radiusY);
  const grow = Math.max(1, Math.hypot(turned.x / unscaledX, turned.y / unscaledY));
  const [radiusX, radiusY] = [unscaledX * grow, unscaledY * grow];
  // In the frame where the ellipse is the unit circle, the ends lie at centre +- end.
  const end = { x: turned.x / radiusX, y: turned.y / radiusY };
  const centre = unitCentre(end, arc.largeArc === arc.sweep);
  const startAngle = Math.atan2(end.y - centre.y, end.x - centre.x);
  const endAngle = Math.atan2(-end.y - centre.y, -end.x - centre.x);
  const onCircle = { x: Math.cos(startAngle), y: Math.sin(startAngle) };
  const sweepRad = sweepBetween(startAngle, endAngle, arc.sweep);
  const matrix = {
    a: cosine * radiusX,
    b: sine * radiusX,
    c: -sine * radiusY,
    d: cosine * radiusY,
    e: (from.x + to.x) / 2 + cosine * radiusX * centre.x - sine * radiusY * centre.y,
    f: (from.y + to.y) / 2 + sine * radiusX * centre.x + cosine * radiusY * centre.y,
  };
  const unitArc: Segment = {
    kind: "arc",
    to: { x: Math.cos(endAngle), y: Math.sin(endAngle) },
    centre: { x: 0, y: 0 },
    sweepRad,
  };
  const path = applyToPath(matrix, { start: onCircle, segments: [unitArc], closed: false });
  return endingExactlyAt(path.segments, to);
}

/** F.6.5 step 2 with radii 1: the centre lies square to the chord, on the side that the flags say. */
function unitCentre(end: Point, flagsAgree: boolean): Point {
  const squared = end.x * end.x + end.y * end.y;
  const factor = Math.sqrt(Math.max(0, 1 - squared) / squared) * (flagsAgree ? -1 : 1);
  return { x: factor * end.y, y: -factor * end.x };
}

function sweepBetween(start: number, end: number, growing: boolean): number {
  const turn = 2 * Math.PI;
  const difference = end - start;
  if (growing) return difference > 0 ? difference : difference + turn;
  return difference < 0 ? difference : difference - turn;
}

function endingExactlyAt(segments: readonly Segment[], to: Point): Segment[] {
  return segments.map((segment, index) =>
    index === segments.length - 1 ? { ...segment, to } : segment,
  );
}
