import { pathEnd, pathLength } from "../geometry/path.ts";
import { distance } from "../geometry/point.ts";
import type { Point } from "../geometry/types.ts";
import { errorAt, warningAt } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { lengthText, trimmed } from "../units.ts";
import type { PlacedPath } from "./drawn-line.ts";
import { whereText } from "./fault.ts";
import { joined } from "./join.ts";
import { withoutTwins } from "./twins.ts";
import { JOIN_MM, tidied } from "./weld.ts";

/** From lines as drawn to contours as worked. */

/** Shorter lines are specks left over from drawing. */
export const SPECK_MM = 0.1;

/** Shorter lines can not even belong to a chain. */
const POINT_MM = 1e-6;

export interface Contours {
  readonly paths: readonly PlacedPath[];
  readonly problems: readonly Problem[];
}

/** Contours that must be closed: loose lines are joined, what stays open is an error. */
export function closedContours(
  lines: readonly PlacedPath[],
  operation: "cut" | "engrave",
): Contours {
  const points = split(lines.map(tidiedLine), ({ path }) => pathLength(path) <= POINT_MM);
  const drawn = withoutTwins(points.no);
  const openness = split(drawn.kept, ({ path }) => !path.closed);
  const chains = split([...openness.no, ...joined(openness.yes)], isSpeck);
  const whole = withoutTwins(chains.no);
  const open = split(whole.kept, ({ path }) => !path.closed);
  const problems = [
    ...[...points.yes, ...chains.yes].map(speck),
    ...[...drawn.twins, ...whole.twins].map(twin),
    ...open.yes.map((line) => openContour(line, open.yes, operation)),
  ];
  return { paths: open.no, problems };
}

/** Lines that may be open, each on its own. */
export function openOrClosedLines(lines: readonly PlacedPath[]): Contours {
  const specks = split(lines.map(tidiedLine), isSpeck);
  const { kept, twins } = withoutTwins(specks.no);
  return { paths: kept, problems: [...specks.yes.map(speck), ...twins.map(twin)] };
}

function tidiedLine(line: PlacedPath): PlacedPath {
  return { ...line, path: tidied(line.path) };
}

function isSpeck({ path }: PlacedPath): boolean {
  return pathLength(path) < SPECK_MM;
}

function split<T>(items: readonly T[], test: (item: T) => boolean): { yes: T[]; no: T[] } {
  return { yes: items.filter(test), no: items.filter((item) => !test(item)) };
}

function speck({ place, path }: PlacedPath): Problem {
  return warningAt(place, {
    code: "contour-speck",
    found: `a line of ${lengthText(pathLength(path))} at ${whereText(path.start)}`,
    expected: `lines of at least ${lengthText(SPECK_MM)}; it is left out`,
    mend: "Delete the speck from the drawing",
  });
}

function twin({ place, path }: PlacedPath): Problem {
  return warningAt(place, {
    code: "contour-twice",
    found: `a line at ${whereText(path.start)} on top of the same line`,
    expected: "every line once; it is worked once",
    mend: "Delete the double from the drawing",
  });
}

function openContour(
  line: PlacedPath,
  open: readonly PlacedPath[],
  operation: "cut" | "engrave",
): Problem {
  const { path, place } = line;
  const end = pathEnd(path);
  const gap = Math.min(...loosePoints(line, open).map((point) => distance(end, point)));
  return errorAt(place, {
    code: operation === "cut" ? "contour-open" : "engraving-open",
    found: `an open line from ${whereText(path.start)} to ${whereText(end)}, ${trimmed(gap, 2)} mm from the nearest loose end`,
    expected: `a closed contour to ${operation} (gaps up to ${lengthText(JOIN_MM)} are closed)`,
    mend: "Join the ends in the drawing, or give lines that are only scored a line rule",
  });
}

/** All ends that the end of a line could have been meant for. */
function loosePoints(line: PlacedPath, open: readonly PlacedPath[]): Point[] {
  const others = open.filter((other) => other !== line);
  return [line.path.start, ...others.flatMap(({ path }) => [path.start, pathEnd(path)])];
}
