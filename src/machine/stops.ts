import { flattenPath } from "../geometry/flatten.ts";
import { pathBounds, pathEnd, reversePath } from "../geometry/path.ts";
import { pointInRing } from "../geometry/ring.ts";
import type { Box, Path, Ring } from "../geometry/types.ts";
import type { CommonCuts, Operation } from "../job/types.ts";
import { runsOnce, wholeRuns } from "./common-cuts.ts";
import type { CutContour } from "./common-cuts.ts";
import { rasterBlock } from "./raster.ts";
import { begunAt, startsOn } from "./starts.ts";
import type { Entrance, TourStop } from "./tour.ts";
import type { PlacedLines } from "./types.ts";

/** The things a machine goes to one after the other, and which of them must wait for which. */

export interface Stop extends TourStop {
  readonly operation: Operation;
  readonly part: string;
  readonly copy: number;
  /** One contour or a run of it, or all that is engraved on one copy. */
  readonly paths: readonly Path[];
}

/** All that is engraved on a copy is one stop, which may be begun in any corner of its box. */
export function engravingStops(lines: readonly PlacedLines[], lineIntervalMm: number): Stop[] {
  return lines
    .filter(({ engravings }) => engravings.length > 0)
    .map(({ part, copy, engravings }) => ({
      operation: "engrave",
      part,
      copy,
      paths: engravings,
      entrances: corners(engravings, lineIntervalMm),
      before: [],
    }));
}

export function scoreStops(lines: readonly PlacedLines[]): Stop[] {
  return lines.flatMap(({ part, copy, scores }) =>
    scores.map((path) => contourStop("score", part, copy, path, [])),
  );
}

/** Every run of the beam that cuts. @param commonCuts whether edges in common are cut once. */
export function cutStops(lines: readonly PlacedLines[], commonCuts: CommonCuts): Stop[] {
  const contours = cutContours(lines);
  const runs = commonCuts === "once" ? runsOnce(contours) : wholeRuns(contours);
  return runs.map(({ part, copy, path, before }) => contourStop("cut", part, copy, path, before));
}

/**
 * In holes lie the parts in them, in outlines their own holes: what is cut free may shift, and
 * nothing is cut in it any more.
 */
function cutContours(lines: readonly PlacedLines[]): CutContour[] {
  let next = 0;
  const numbered = lines.map((placed) => {
    const number = (path: Path) => ({ path, index: next++ });
    const [holes, again] = [placed.holes.map(number), (placed.cutAgain ?? []).map(number)];
    return { placed, holes, again, outline: next++, box: pathBounds(placed.outline) };
  });
  return numbered.flatMap(({ placed: { part, copy, outline }, holes, again }) => [
    ...holes.map(({ path }) => ({ part, copy, path, inside: outlinesWithin(path, numbered) })),
    ...again.map(({ path }) => ({ part, copy, path, inside: [] })),
    { part, copy, path: outline, inside: [...holes, ...again].map(({ index }) => index) },
  ]);
}

/** The stop's paths, begun at the entrance: closed ones turned round, open ones reversed. */
export function pathsFrom({ operation, paths }: Stop, entrance: number): readonly Path[] {
  if (operation === "engrave") return paths;
  return paths.map((path) => {
    if (!path.closed) return entrance === 0 ? path : reversePath(path);
    const start = startsOn(path)[entrance];
    return start === undefined ? path : begunAt(path, start);
  });
}

function contourStop(
  operation: Operation,
  part: string,
  copy: number,
  path: Path,
  before: readonly number[],
): Stop {
  const entrances = path.closed
    ? startsOn(path).map(({ point }) => ({ enter: point, leave: point }))
    : [
        { enter: path.start, leave: pathEnd(path) },
        { enter: pathEnd(path), leave: path.start },
      ];
  return { operation, part, copy, paths: [path], entrances, before };
}

/** Numbers of the outlines that lie in the hole; pieces do not overlap, so one vertex decides. */
function outlinesWithin(
  hole: Path,
  placed: readonly { placed: PlacedLines; outline: number; box: Box }[],
): number[] {
  const around = pathBounds(hole);
  let ring: Ring | null = null;
  return placed
    .filter(({ placed: { outline }, box }) => {
      if (!contains(around, box)) return false;
      const edge = (ring ??= flattenPath(hole, EDGE_TOLERANCE_MM));
      return outline.segments.some(({ to }) => pointInRing(to, edge));
    })
    .map(({ outline }) => outline);
}

/** Far finer than the gap that is kept between pieces. */
const EDGE_TOLERANCE_MM = 0.01;

function contains(outer: Box, inner: Box): boolean {
  return (
    outer.minX <= inner.minX &&
    outer.minY <= inner.minY &&
    outer.maxX >= inner.maxX &&
    outer.maxY >= inner.maxY
  );
}

/** An even number of lines brings the beam back to the side where it began. */
function corners(paths: readonly Path[], lineIntervalMm: number): Entrance[] {
  const { box, lines } = rasterBlock(paths, lineIntervalMm);
  const { minX, minY, maxX, maxY } = box;
  const across = (x: number): number => (lines % 2 === 0 ? x : minX + maxX - x);
  const corner = (x: number, y: number): Entrance => ({
    enter: { x, y },
    leave: { x: across(x), y: minY + maxY - y },
  });
  return [corner(minX, minY), corner(maxX, minY), corner(minX, maxY), corner(maxX, maxY)];
}
