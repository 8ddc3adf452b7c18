import { flattenPath } from "../geometry/flatten.ts";
import { pathBounds } from "../geometry/path.ts";
import type { Box, Path, Point } from "../geometry/types.ts";
import type { PlacedPath } from "./drawn-line.ts";

/** Lines nowhere further apart than this are the same line drawn twice. */
export const SAME_MM = 0.01;

/** Fine enough that two polygons of the same curve, divided differently, count as the same. */
const COMPARING_MM = 0.002;

/** Keeps the first of lines that lie on each other, whichever way they run; gives the others too. */
export function withoutTwins(lines: readonly PlacedPath[]): {
  readonly kept: readonly PlacedPath[];
  readonly twins: readonly PlacedPath[];
} {
  const kept: { line: PlacedPath; box: Box }[] = [];
  const twins: PlacedPath[] = [];
  for (const line of lines) {
    const box = pathBounds(line.path);
    const isTwin = kept.some(
      (other) => sameBox(box, other.box) && sameLine(line.path, other.line.path),
    );
    if (isTwin) twins.push(line);
    else kept.push({ line, box });
  }
  return { kept: kept.map(({ line }) => line), twins };
}

function sameBox(a: Box, b: Box): boolean {
  return (
    Math.abs(a.minX - b.minX) <= SAME_MM &&
    Math.abs(a.minY - b.minY) <= SAME_MM &&
    Math.abs(a.maxX - b.maxX) <= SAME_MM &&
    Math.abs(a.maxY - b.maxY) <= SAME_MM
  );
}

function sameLine(a: Path, b: Path): boolean {
  const [pointsOfA, pointsOfB] = [polyline(a), polyline(b)];
  return liesOn(pointsOfA, pointsOfB) && liesOn(pointsOfB, pointsOfA);
}

function polyline(path: Path): Point[] {
  const points = flattenPath(path, COMPARING_MM);
  return path.closed ? [...points, path.start] : points;
}

function liesOn(points: readonly Point[], line: readonly Point[]): boolean {
  return points.every((point) =>
    line.some(
      (end, index) => distanceToSide(point, line[Math.max(0, index - 1)] ?? end, end) <= SAME_MM,
    ),
  );
}

function distanceToSide(p: Point, a: Point, b: Point): number {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const squared = dx * dx + dy * dy;
  const along = squared === 0 ? 0 : ((p.x - a.x) * dx + (p.y - a.y) * dy) / squared;
  const share = Math.min(1, Math.max(0, along));
  return Math.hypot(p.x - a.x - share * dx, p.y - a.y - share * dy);
}
