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
  for (let at = 0; at < points.x.length; at++) {
    const away = Math.hypot((points.x[at] ?? 0) - centre.x, (points.y[at] ?? 0) - centre.y);
    if (!(Math.abs(away - radius) <= tolerance)) return null;
  }
  const area = Math.PI * radius * radius;
  const fillsCircle = Math.abs(Math.abs(pathArea(path)) - area) <= 2 * ROUND_SHARE * area;
  return fillsCircle ? circle : null;
}

/** Without the dust of the sums, far below anything a machine can place. */
function tidy(mm: number): number {
  return Math.round(mm * 1e6) / 1e6;
}

/** Coordinates of many points, by index: an object for each would be most of the work. */
interface Samples {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** Corners and middles of a fine polygon: a straight side departs most at its middle. */
function samples(path: Path): Samples {
  const ring = flattenPath(path, SAMPLING_MM);
  const [x, y] = [new Float64Array(2 * ring.length), new Float64Array(2 * ring.length)];
  for (const [index, a] of ring.entries()) {
    const b = ring[index + 1 < ring.length ? index + 1 : 0] ?? a;
    [x[2 * index], y[2 * index]] = [a.x, a.y];
    [x[2 * index + 1], y[2 * index + 1]] = [(a.x + b.x) / 2, (a.y + b.y) / 2];
  }
  return { x, y };
}

/**
 * Algebraic least squares: x^2 + y^2 = 2 a x + 2 b y + c about the mean point; null when the
 * points lie on a line.
 */
function fittedCircle(points: Samples): Circle | null {
  const count = points.x.length;
  const [meanX, meanY] = [meanOf(points.x), meanOf(points.y)];
  let [xx, xy, yy, xz, yz, z] = [0, 0, 0, 0, 0, 0];
  for (let at = 0; at < count; at++) {
    const x = (points.x[at] ?? 0) - meanX;
    const y = (points.y[at] ?? 0) - meanY;
    const square = x * x + y * y;
    xx += x * x;
    xy += x * y;
    yy += y * y;
    xz += x * square;
    yz += y * square;
    z += square;
  }
  const determinant = xx * yy - xy * xy;
  if (!(determinant > 1e-12 * z * z)) return null;
  const a = (xz * yy - yz * xy) / (2 * determinant);
  const b = (yz * xx - xz * xy) / (2 * determinant);
  const radius = Math.sqrt(z / count + a * a + b * b);
  return { centre: { x: meanX + a, y: meanY + b }, radius };
}

function meanOf(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
