import { flattenPath } from "../geometry/flatten.ts";
import { pathArea, pathBounds } from "../geometry/path.ts";
import { distance } from "../geometry/point.ts";
import type { Path, Point } from "../geometry/types.ts";
import type { RoundHole } from "./types.ts";

/** A hole is round when it lies this near to a circle everywhere, mm ... */
const ROUND_MM = 0.05;
/** ... and this near for its size, so that a 0.5 mm square is no circle; share of the radius. */
const ROUND_SHARE = 0.02;
const SAMPLING_MM = 0.002;
const DIAMETER_STEPS_PER_MM = 100;

/** The circle that a closed path follows, its diameter to 0.01 mm; null when it follows none. */
export function roundHole(path: Path): RoundHole | null {
  const circle = drawnCircle(path) ?? followedCircle(path);
  if (circle === null) return null;
  const { centre, radius } = circle;
  const diameterMm = Math.round(2 * radius * DIAMETER_STEPS_PER_MM) / DIAMETER_STEPS_PER_MM;
  return { diameterMm, centre: { x: tidy(centre.x), y: tidy(centre.y) } };
}

interface Circle {
  readonly centre: Point;
  readonly radius: number;
}

/** Arcs about centres as near as this are about one. */
const ONE_CENTRE_MM = 1e-6;

/** Of a path of arcs about one centre, once around. */
function drawnCircle(path: Path): Circle | null {
  const [first] = path.segments;
  if (first?.kind !== "arc") return null;
  const { centre } = first;
  let turn = 0;
  for (const segment of path.segments) {
    if (segment.kind !== "arc" || distance(segment.centre, centre) > ONE_CENTRE_MM) return null;
    turn += segment.sweepRad;
  }
  const isOnce = Math.abs(Math.abs(turn) - 2 * Math.PI) < ONE_CENTRE_MM;
  return isOnce ? { centre, radius: distance(path.start, centre) } : null;
}

function followedCircle(path: Path): Circle | null {
  const { minX, minY, maxX, maxY } = pathBounds(path);
  if (Math.abs(maxX - minX - maxY + minY) > 4 * ROUND_MM) return null;
  const points = samples(path);
  const circle = fittedCircle(points);
  if (circle === null) return null;
  const { centre, radius } = circle;
  const tolerance = Math.min(ROUND_MM, ROUND_SHARE * radius);
  const onCircle = points.every((point) => Math.abs(distance(point, centre) - radius) <= tolerance);
  const area = Math.PI * radius * radius;
  const fillsCircle = Math.abs(Math.abs(pathArea(path)) - area) <= 2 * ROUND_SHARE * area;
  return onCircle && fillsCircle ? circle : null;
}

/** Without the dust of the sums, far below anything a machine can place. */
function tidy(mm: number): number {
  return Math.round(mm * 1e6) / 1e6;
}

/** Corners and middles of a fine polygon: a straight side departs most at its middle. */
function samples(path: Path): Point[] {
  const ring = flattenPath(path, SAMPLING_MM);
  return ring.flatMap((a, index) => {
    const b = ring[(index + 1) % ring.length] ?? a;
    return [a, { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }];
  });
}

/**
 * Algebraic least squares: x^2 + y^2 = 2 a x + 2 b y + c about the mean point; null when the
 * points lie on a line.
 */
function fittedCircle(points: readonly Point[]): Circle | null {
  const count = points.length;
  const mean = {
    x: points.reduce((sum, { x }) => sum + x, 0) / count,
    y: points.reduce((sum, { y }) => sum + y, 0) / count,
  };
  let [xx, xy, yy, xz, yz, z] = [0, 0, 0, 0, 0, 0];
  for (const point of points) {
    const [x, y] = [point.x - mean.x, point.y - mean.y];
    const square = x * x + y * y;
    [xx, xy, yy] = [xx + x * x, xy + x * y, yy + y * y];
    [xz, yz, z] = [xz + x * square, yz + y * square, z + square];
  }
  const determinant = xx * yy - xy * xy;
  if (!(determinant > 1e-12 * z * z)) return null;
  const a = (xz * yy - yz * xy) / (2 * determinant);
  const b = (yz * xx - xz * xy) / (2 * determinant);
  const radius = Math.sqrt(z / count + a * a + b * b);
  return { centre: { x: mean.x + a, y: mean.y + b }, radius };
}
