import { coveredStretches, leftOver } from "../drawing/shared-stretches.ts";
import type { Path } from "../geometry/types.ts";

/**
 * Edges that contours have in common, cut once. They coincide where no gap is kept between pieces:
 * then one kerf parts both, which takes from each what it takes at all its other edges, whether
 * lines are cut as drawn or moved by half the kerf. No size changes by it.
 */

/** A contour to cut on a sheet. */
export interface CutContour {
  readonly part: string;
  readonly copy: number;
  readonly path: Path;
  /** Numbers of the contours that lie inside: they must be cut while it is not. */
  readonly inside: readonly number[];
}

/** What the beam runs in one go: a contour, or what others have left of it. */
export interface CutRun {
  readonly part: string;
  readonly copy: number;
  readonly path: Path;
  /** Numbers of the runs that must come earlier. */
  readonly before: readonly number[];
}

/** Every contour whole, edges in common twice. */
export function wholeRuns(contours: readonly CutContour[]): readonly CutRun[] {
  return contours.map(({ inside, ...contour }) => ({ ...contour, before: inside }));
}

/**
 * Every stretch of straight lines and arcs once: the first contour that has it is cut whole, later
 * ones along what is left of them. Cubics are cut as often as they are there.
 */
export function runsOnce(contours: readonly CutContour[]): readonly CutRun[] {
  const covered = coveredStretches(contours.map(({ path }) => path));
  let next = 0;
  const split = contours.map((contour, index) => {
    const { spans, by } = covered[index] ?? { spans: [], by: new Set<number>() };
    const paths = leftOver(contour.path, spans);
    const first = next;
    next += paths.length;
    return { contour, paths, own: paths.map((_, piece) => first + piece), by };
  });
  const before = waits(split);
  return split.flatMap(({ contour: { part, copy }, paths, own }) =>
    paths.map((path, piece) => ({ part, copy, path, before: [...(before[own[piece]!] ?? [])] })),
  );
}

interface SplitContour {
  readonly contour: CutContour;
  /** Numbers of its runs; none where others have all of it. */
  readonly own: readonly number[];
  /** Numbers of the contours that have stretches of it. */
  readonly by: ReadonlySet<number>;
}

/**
 * A piece comes loose with the last stretch of its outline, so that one run of it which comes after
 * everything inside is enough. It is a run of its own, or where it has none, any of its others.
 */
function waits(split: readonly SplitContour[]): ReadonlySet<number>[] {
  const runs = split.reduce((sum, { own }) => sum + own.length, 0);
  const before = Array.from({ length: runs }, () => new Set<number>());
  const othersOf = ({ by }: SplitContour): readonly number[] =>
    [...by].flatMap((other) => split[other]?.own ?? []);
  for (const one of split) {
    const own = one.own.length > 0 ? one.own : othersOf(one);
    const inside = one.contour.inside.flatMap((index) => {
      const other = split[index];
      return other === undefined ? [] : [...other.own, ...othersOf(other)];
    });
    for (const run of own)
      for (const earlier of inside) if (!own.includes(earlier)) before[run]?.add(earlier);
  }
  return before;
}
