import { legPart } from "../geometry/leg.ts";
import { legsOf } from "../geometry/path.ts";
import type { Path } from "../geometry/types.ts";
import type { PlacedPath } from "./drawn-line.ts";
import { coveredStretches, leftOver } from "./shared-stretches.ts";
import type { Covered } from "./shared-stretches.ts";

/** Lines of a drawing that lie on others of it. */

export interface Singled {
  readonly lines: readonly PlacedPath[];
  /** The stretches that were taken away. */
  readonly doubled: readonly PlacedPath[];
}

/**
 * Open lines without the stretches that lie on closed contours or on earlier open lines, also on
 * earlier stretches of themselves. Closed contours are kept whole: they must stay closed. A line
 * that is covered in its middle becomes two.
 */
export function withoutDoubledStretches(lines: readonly PlacedPath[]): Singled {
  const closed = lines.filter(isClosed);
  if (closed.length === lines.length) return { lines, doubled: [] };
  const ordered = [...closed, ...lines.filter((line) => !isClosed(line))];
  const covered = coveredStretches(
    ordered.map(({ path }) => path),
    closed.length,
  );
  const all = ordered.map((line, index) => ({ line, covered: covered[index] ?? NOTHING }));
  return {
    lines: all.flatMap(({ line, covered: { spans } }) =>
      leftOver(line.path, spans).map((path) => (path === line.path ? line : { ...line, path })),
    ),
    doubled: all.flatMap(({ line, covered }) =>
      stretches(line.path, covered).map((path) => ({ place: line.place, path })),
    ),
  };
}

const NOTHING: Covered = { spans: [], by: new Set() };

function isClosed({ path }: PlacedPath): boolean {
  return path.closed;
}

function stretches(path: Path, { spans }: Covered): Path[] {
  return legsOf(path).flatMap((leg, index) =>
    (spans[index] ?? []).map(([begin, end]) => {
      const { from, segment } = legPart(leg, begin, end);
      return { start: from, segments: [segment], closed: false };
    }),
  );
}
