import type { Path, Point, Segment } from "../../src/geometry/types.ts";

/**
 * How long a path takes, by brute force: in each small step of time the carriage gains what it may,
 * unless it must brake for a slower place ahead. It knows the limits alone: the feed, the acceleration
 * along the path, sqrt(a r) in curves, and at corners the arc that misses them by the tolerance. It
 * shares no code with the planner.
 */
export function simulatedTime(path: Path, limits: Limits): number {
  const { places, lengthMm } = placesOf(path, limits);
  const { acceleration, feed } = limits;
  let [s, v, t, next] = [0, 0, 0, 0];
  let ceiling = feed;
  while (s < lengthMm - 1e-9) {
    while (next < places.length && places[next]!.at <= s + 1e-12) ceiling = places[next++]!.from;
    let allowed = Math.min(ceiling, v + acceleration * STEP_S);
    const reachMm = (allowed * allowed) / (2 * acceleration) + allowed * STEP_S;
    for (let index = next; index < places.length; index++) {
      const { at, least } = places[index]!;
      // The last few steps of braking to a halt would creep: half a step ahead is near enough.
      const awayMm = at - s - (allowed * STEP_S) / 2;
      if (awayMm > reachMm) break;
      allowed = Math.min(
        allowed,
        Math.sqrt(least * least + 2 * acceleration * Math.max(awayMm, 0)),
      );
    }
    v = Math.max(allowed, SLOWEST);
    s += v * STEP_S;
    t += STEP_S;
  }
  return t;
}

export interface Limits {
  readonly feed: number;
  readonly acceleration: number;
  readonly toleranceMm: number;
}

const STEP_S = 2e-5;
const SLOWEST = 0.05;

/** A place on the way: how fast it is passed at most, and from there on. */
interface Place {
  readonly at: number;
  readonly least: number;
  readonly from: number;
}

function placesOf(
  path: Path,
  { feed, acceleration, toleranceMm }: Limits,
): { readonly places: readonly Place[]; readonly lengthMm: number } {
  const places: Place[] = [];
  let at = 0;
  let from = path.start;
  let before: { readonly heading: number; readonly lengthMm: number } | null = null;
  const fast = (radiusMm: number): number => Math.min(feed, Math.sqrt(acceleration * radiusMm));
  for (const segment of path.segments) {
    const points = sampled(from, segment);
    const lengths = points.slice(1).map((point, index) => apart(points[index]!, point));
    const lengthMm = lengths.reduce((sum, each) => sum + each, 0);
    const radii = lengths.map((_, index) => radiusAt(points, index));
    const corner =
      before === null
        ? 0
        : fast(cornerRadius(before, { heading: headingAt(points, 0), lengthMm }, toleranceMm));
    for (const [index, radius] of radii.entries()) {
      const speed = fast(radius);
      const least = index === 0 ? Math.min(corner, speed) : speed;
      places.push({ at, least, from: speed });
      at += lengths[index]!;
    }
    before = { heading: headingAt(points, points.length - 2), lengthMm };
    from = segment.to;
  }
  places.push({ at, least: 0, from: 0 });
  return { places, lengthMm: at };
}

const SAMPLES = 400;

function sampled(from: Point, segment: Segment): readonly Point[] {
  if (segment.kind === "line") return [from, segment.to];
  return Array.from({ length: SAMPLES + 1 }, (_, index) => pointAt(from, segment, index / SAMPLES));
}

function pointAt(from: Point, segment: Segment, t: number): Point {
  if (segment.kind === "line") return segment.to;
  if (segment.kind === "arc") {
    const { centre, sweepRad } = segment;
    const [x, y] = [from.x - centre.x, from.y - centre.y];
    const [cosine, sine] = [Math.cos(sweepRad * t), Math.sin(sweepRad * t)];
    return { x: centre.x + x * cosine - y * sine, y: centre.y + x * sine + y * cosine };
  }
  const [a, b, c, d] = [from, segment.control1, segment.control2, segment.to];
  const [w0, w1, w2, w3] = [(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t ** 3];
  return {
    x: w0 * a.x + w1 * b.x + w2 * c.x + w3 * d.x,
    y: w0 * a.y + w1 * b.y + w2 * c.y + w3 * d.y,
  };
}

/** Of the circle through three points about a piece of the way. */
function radiusAt(points: readonly Point[], index: number): number {
  if (points.length < 3) return Infinity;
  const middle = Math.min(Math.max(index, 1), points.length - 2);
  const [a, b, c] = [points[middle - 1]!, points[middle]!, points[middle + 1]!];
  const doubled = Math.abs((b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x));
  return doubled === 0 ? Infinity : (apart(a, b) * apart(b, c) * apart(c, a)) / (2 * doubled);
}

function headingAt(points: readonly Point[], index: number): number {
  const [a, b] = [points[index]!, points[index + 1]!];
  return Math.atan2(b.y - a.y, b.x - a.x);
}

interface Side {
  readonly heading: number;
  readonly lengthMm: number;
}

/** As published: R = d sin h / (1 - sin h), with an arc that reaches no further than half of a side. */
function cornerRadius(before: Side, after: Side, toleranceMm: number): number {
  const full = Math.abs(after.heading - before.heading) % (2 * Math.PI);
  const turn = Math.min(full, 2 * Math.PI - full);
  // Samples of a smooth join differ by a little.
  if (turn < 0.02) return Infinity;
  const h = (Math.PI - turn) / 2;
  const missed = (toleranceMm * Math.sin(h)) / (1 - Math.sin(h));
  return Math.min(missed, (Math.tan(h) * Math.min(before.lengthMm, after.lengthMm)) / 2);
}

function apart(a: Point, b: Point): number {
  return Math.hypot(b.x - a.x, b.y - a.y);
}
