import { isStraight } from "../geometry/flatten.ts";
import { legsOf, pathEnd, pathLength } from "../geometry/path.ts";
import { distance, samePoint } from "../geometry/point.ts";
import type { Path, Point, Segment } from "../geometry/types.ts";

/** Closing the small gaps that drawing programs leave. */

/** Ends as near as this are meant to meet. A laser's kerf is wider. */
export const JOIN_MM = 0.05;

/** Shorter pieces are rounding dust of relative coordinates. */
const DUST_MM = 1e-6;

/** Without dust; closed when it says so or when its ends meet within {@link JOIN_MM}. */
export function tidied(path: Path): Path {
  const clean = withoutClosingScrap(withoutDust(path));
  if (clean.closed || clean.segments.length === 0) return clean;
  const gap = distance(pathEnd(clean), clean.start);
  const isLoop = gap <= JOIN_MM && pathLength(clean) > 2 * JOIN_MM;
  return isLoop ? { ...withEndAt(clean, clean.start), closed: true } : clean;
}

/** The path with its end moved by a hair's breadth to a given point. */
export function withEndAt(path: Path, end: Point): Path {
  const last = legsOf(path).at(-1);
  if (last === undefined || samePoint(last.segment.to, end)) return path;
  const moved = endMoved(last.from, last.segment, end);
  return { ...path, segments: [...path.segments.slice(0, -1), ...moved] };
}

function withoutDust(path: Path): Path {
  let from = path.start;
  const segments: Segment[] = [];
  for (const segment of path.segments) {
    const single = { start: from, segments: [segment], closed: false };
    if (isStraight(single) && distance(from, segment.to) < DUST_MM) continue;
    segments.push(segment);
    from = segment.to;
  }
  const clean = { ...path, segments };
  return path.closed ? withEndAt(clean, path.start) : clean;
}

/** A closing line shorter than a gap that would be joined is such a gap. */
function withoutClosingScrap(path: Path): Path {
  const last = legsOf(path).at(-1);
  if (!path.closed || path.segments.length < 2 || last?.segment.kind !== "line") return path;
  if (distance(last.from, last.segment.to) > JOIN_MM) return path;
  return withEndAt({ ...path, segments: path.segments.slice(0, -1) }, path.start);
}

/** A segment much longer than the move is turned and stretched; others get a short line. */
const STRETCH_FROM_LENGTHS = 20;

/** The similarity about `from` that takes the old end to the new: arcs stay arcs. */
function endMoved(from: Point, segment: Segment, end: Point): Segment[] {
  const chord = distance(from, segment.to);
  if (chord < STRETCH_FROM_LENGTHS * distance(segment.to, end))
    return [segment, { kind: "line", to: end }];
  const move = similarity(from, segment.to, end);
  if (segment.kind === "line") return [{ kind: "line", to: end }];
  if (segment.kind === "arc") return [{ ...segment, centre: move(segment.centre), to: end }];
  return [
    {
      kind: "cubic",
      control1: move(segment.control1),
      control2: move(segment.control2),
      to: end,
    },
  ];
}

function similarity(about: Point, old: Point, now: Point): (point: Point) => Point {
  const [ox, oy] = [old.x - about.x, old.y - about.y];
  const [nx, ny] = [now.x - about.x, now.y - about.y];
  const squared = ox * ox + oy * oy;
  const [re, im] = [(nx * ox + ny * oy) / squared, (ny * ox - nx * oy) / squared];
  return ({ x, y }) => {
    const [dx, dy] = [x - about.x, y - about.y];
    return { x: about.x + re * dx - im * dy, y: about.y + im * dx + re * dy };
  };
}
