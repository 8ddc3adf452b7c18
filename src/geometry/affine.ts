import { arcPoint } from "./arc.ts";
import type { Arc } from "./arc.ts";
import type { Cubic } from "./cubic.ts";
import { legsOf } from "./path.ts";
import type { Leg } from "./path.ts";
import type { Path, Point, Segment } from "./types.ts";

/** Affine maps of the plane: x' = a x + c y + e, y' = b x + d y + f, as in SVG's `matrix(...)`. */

export interface Affine {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}

export const IDENTITY: Affine = { a: 1, b: 0, c: 0, d: 1, e: 0, f: 0 };

/** The map that does `inner` first and `outer` after it. */
export function compose(outer: Affine, inner: Affine): Affine {
  return {
    a: outer.a * inner.a + outer.c * inner.b,
    b: outer.b * inner.a + outer.d * inner.b,
    c: outer.a * inner.c + outer.c * inner.d,
    d: outer.b * inner.c + outer.d * inner.d,
    e: outer.a * inner.e + outer.c * inner.f + outer.e,
    f: outer.b * inner.e + outer.d * inner.f + outer.f,
  };
}

/** Factor of areas; negative when the map mirrors. */
export function determinant({ a, b, c, d }: Affine): number {
  return a * d - b * c;
}

export function applyToPoint({ a, b, c, d, e, f }: Affine, { x, y }: Point): Point {
  return { x: a * x + c * y + e, y: b * x + d * y + f };
}

/**
 * A similarity keeps arcs as arcs, with their sweeps reversed when it mirrors; any other map makes
 * them cubics that depart from the true ellipse by less than 1e-7 of its radius.
 */
export function applyToPath(matrix: Affine, path: Path): Path {
  const keepsCircles = isSimilarity(matrix);
  const segments = legsOf(path).flatMap((leg) => applyToLeg(matrix, leg, keepsCircles));
  return { start: applyToPoint(matrix, path.start), segments, closed: path.closed };
}

/** Whether circles stay circles, to a few units of the last binary place. */
export function isSimilarity({ a, b, c, d }: Affine): boolean {
  const dust = 1e-12 * Math.max(Math.abs(a), Math.abs(b), Math.abs(c), Math.abs(d));
  const turned = Math.abs(a - d) <= dust && Math.abs(b + c) <= dust;
  const mirrored = Math.abs(a + d) <= dust && Math.abs(b - c) <= dust;
  return turned || mirrored;
}

/** A cubic over this angle departs 6.6e-8 r from its arc: r 2/27 sin^6(x/4) / cos^2(x/4). */
const LARGEST_CUBIC_RAD = Math.PI / 8;

function applyToLeg(matrix: Affine, { from, segment }: Leg, keepsCircles: boolean): Segment[] {
  if (segment.kind === "line") return [{ kind: "line", to: applyToPoint(matrix, segment.to) }];
  if (segment.kind === "cubic") return [applyToCubic(matrix, segment)];
  if (!keepsCircles) return arcCubics(from, segment).map((cubic) => applyToCubic(matrix, cubic));
  return [
    {
      kind: "arc",
      to: applyToPoint(matrix, segment.to),
      centre: applyToPoint(matrix, segment.centre),
      sweepRad: determinant(matrix) < 0 ? -segment.sweepRad : segment.sweepRad,
    },
  ];
}

function applyToCubic(matrix: Affine, { control1, control2, to }: Cubic): Cubic {
  return {
    kind: "cubic",
    control1: applyToPoint(matrix, control1),
    control2: applyToPoint(matrix, control2),
    to: applyToPoint(matrix, to),
  };
}

/** The arc as cubics, with tangents of 4/3 tan(angle/4) radii at the ends of each. */
export function arcCubics(from: Point, arc: Arc): Cubic[] {
  const count = Math.max(1, Math.ceil(Math.abs(arc.sweepRad) / LARGEST_CUBIC_RAD - 1e-9));
  const reach = (4 / 3) * Math.tan(arc.sweepRad / count / 4);
  let start = from;
  return Array.from({ length: count }, (_, index) => {
    const to = arcPoint(from, arc, (index + 1) / count);
    const control1 = alongTangent(start, arc.centre, reach);
    const control2 = alongTangent(to, arc.centre, -reach);
    start = to;
    return { kind: "cubic", control1, control2, to };
  });
}

function alongTangent(point: Point, centre: Point, reach: number): Point {
  return {
    x: point.x - reach * (point.y - centre.y),
    y: point.y + reach * (point.x - centre.x),
  };
}
