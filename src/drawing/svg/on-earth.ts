import type { Path, Point } from "../../geometry/types.ts";

const LARGEST_MM = 1e6;
/** A flatter arc than one of this radius can not be told from a line. */
const LARGEST_RADIUS_MM = 1e9;

/** Whether a line lies within a kilometre of the page, with numbers that are numbers. */
export function isOnEarth({ start, segments }: Path): boolean {
  return (
    isWithin(LARGEST_MM, start) &&
    segments.every((segment) => {
      if (!isWithin(LARGEST_MM, segment.to)) return false;
      if (segment.kind === "arc") return isWithin(LARGEST_RADIUS_MM, segment.centre);
      if (segment.kind === "line") return true;
      return isWithin(LARGEST_MM, segment.control1) && isWithin(LARGEST_MM, segment.control2);
    })
  );
}

/** False for NaN as well. */
function isWithin(most: number, { x, y }: Point): boolean {
  return Math.abs(x) < most && Math.abs(y) < most;
}
