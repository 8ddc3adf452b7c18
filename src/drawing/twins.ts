import { distanceToSide } from "../geometry/point.ts";
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
  const kept: PlacedPath[] = [];
  const twins: PlacedPath[] = [];
  const seen = new Map<number, { line: PlacedPath; box: Box }[]>();
  for (const line of lines) {
    const box = pathBounds(line.path);
    const isTwin = nearKeys(box).some((key) =>
      seen
        .get(key)
        ?.some((other) => sameBox(box, other.box) && sameLine(line.path, other.line.path)),
    );
    (isTwin ? twins : kept).push(line);
    if (isTwin) continue;
    const key = keyOf(cellOf(box.minX), cellOf(box.minY));
    const here = seen.get(key);
    if (here === undefined) seen.set(key, [{ line, box }]);
    else here.push({ line, box });
  }
  return { kept, twins };
}

/** Lines are looked up by the lower left corner of their boxes. */
function nearKeys(box: Box): number[] {
  const [x, y] = [cellOf(box.minX), cellOf(box.minY)];
  return [-1, 0, 1].flatMap((dx) => [-1, 0, 1].map((dy) => keyOf(x + dx, y + dy)));
}

function cellOf(mm: number): number {
  return Math.floor(mm / (2 * SAME_MM));
}

/** Rows beyond a column's share of keys would need drawings of more than a kilometre. */
const ROWS = 2 ** 26;

function keyOf(x: number, y: number): number {
  return x * ROWS + y;
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
