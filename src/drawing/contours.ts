import { pathEnd, pathLength } from "../geometry/path.ts";
import { distance } from "../geometry/point.ts";
import type { Path, Point } from "../geometry/types.ts";
import { errorAt, warningAt } from "../problem.ts";
import type { Fault, Problem } from "../problem.ts";
import { lengthText, trimmed } from "../units.ts";
import type { PlacedPath } from "./drawn-line.ts";
import { placesText, whereText } from "./fault.ts";
import { joined } from "./join.ts";
import { withoutDoubledStretches } from "./overlaps.ts";
import type { Singled } from "./overlaps.ts";
import { withoutTwins } from "./twins.ts";
import { JOIN_MM, tidied } from "./weld.ts";

/** From lines as drawn to contours as worked. */

/** Shorter lines are specks left over from drawing. */
export const SPECK_MM = 0.1;

/** Shorter lines can not even belong to a chain. */
const POINT_MM = 1e-6;

export interface Contours {
  readonly paths: readonly PlacedPath[];
  /** What lay on other lines and is not worked. */
  readonly doubled: readonly PlacedPath[];
  readonly problems: readonly Problem[];
}

/** Contours that must be closed: loose lines are joined, what stays open is an error. */
export function closedContours(
  lines: readonly PlacedPath[],
  operation: "cut" | "engrave",
): Contours {
  const points = split(lines.map(tidiedLine), ({ path }) => isShorter(path, POINT_MM));
  const drawn = worked(points.no);
  const openness = split(drawn.lines, ({ path }) => !path.closed);
  const chains = split([...openness.no, ...joined(openness.yes)], isSpeck);
  const whole = withoutTwins(chains.no);
  const open = split(whole.kept, ({ path }) => !path.closed);
  const doubled = [...drawn.doubled, ...whole.twins];
  const problems = [
    ...specks([...points.yes, ...chains.yes]),
    ...drawnTwice(doubled),
    ...openContours(open.yes, operation),
  ];
  return { paths: open.no, doubled, problems };
}

/** Lines that may be open, each on its own. */
export function openOrClosedLines(lines: readonly PlacedPath[]): Contours {
  const short = split(lines.map(tidiedLine), isSpeck);
  const { lines: paths, doubled } = worked(short.no);
  return { paths, doubled, problems: [...specks(short.yes), ...drawnTwice(doubled)] };
}

/** Every stretch once. */
function worked(lines: readonly PlacedPath[]): Singled {
  const { kept, twins } = withoutTwins(lines);
  const { lines: single, doubled } = withoutDoubledStretches(kept);
  return { lines: single, doubled: [...twins, ...doubled] };
}

function tidiedLine(line: PlacedPath): PlacedPath {
  return { ...line, path: tidied(line.path) };
}

function isSpeck({ path }: PlacedPath): boolean {
  return isShorter(path, SPECK_MM);
}

/** Chords are never longer than their curves, so that most lines are told without measuring these. */
function isShorter(path: Path, mm: number): boolean {
  let [chords, from] = [0, path.start];
  for (const { to } of path.segments) {
    chords += distance(from, to);
    if (chords >= mm) return false;
    from = to;
  }
  return pathLength(path) < mm;
}

function split<T>(items: readonly T[], test: (item: T) => boolean): { yes: T[]; no: T[] } {
  return { yes: items.filter(test), no: items.filter((item) => !test(item)) };
}

function specks(lines: readonly PlacedPath[]): Problem[] {
  const [first] = lines;
  if (first === undefined) return [];
  const where = placesText(lines.map(({ path }) => path.start));
  const longest = lines.reduce((most, { path }) => Math.max(most, pathLength(path)), 0);
  const fault = {
    code: "contour-speck",
    found:
      lines.length === 1
        ? `a line of ${lengthText(longest)} at ${where}`
        : `${lines.length} lines of up to ${lengthText(longest)} at ${where}`,
    expected: `lines of at least ${lengthText(SPECK_MM)}; shorter ones are left out`,
    mend: "Delete the specks from the drawing",
  };
  return [warningAt(first.place, fault)];
}

function drawnTwice(doubled: readonly PlacedPath[]): Problem[] {
  const [first] = doubled;
  if (first === undefined) return [];
  const saved = trimmed(
    doubled.reduce((sum, { path }) => sum + pathLength(path), 0),
    2,
  );
  const fault = {
    code: "contour-twice",
    found: `${saved} mm on top of other lines, at ${placesText(doubled.map(({ path }) => path.start))}`,
    expected: `every line once; it is worked once, which saves ${saved} mm`,
    mend: "Delete the doubles from the drawing",
  };
  return [warningAt(first.place, fault)];
}

/** More of them would hide what else is wrong. */
const MOST_OPEN = 5;

function openContours(open: readonly PlacedPath[], operation: "cut" | "engrave"): Problem[] {
  const shown = open.slice(0, MOST_OPEN).map((line) => openContour(line, open, operation));
  const [next] = open.slice(MOST_OPEN);
  if (next === undefined) return shown;
  const found = `${open.length - MOST_OPEN} more open lines, the first at ${whereText(next.path.start)}`;
  return [...shown, errorAt(next.place, openFault(operation, found))];
}

function openContour(
  line: PlacedPath,
  open: readonly PlacedPath[],
  operation: "cut" | "engrave",
): Problem {
  const { path, place } = line;
  const end = pathEnd(path);
  const own = distance(end, path.start);
  const gap = loosePoints(line, open).reduce(
    (least, point) => Math.min(least, distance(end, point)),
    own,
  );
  const other = gap < own ? "the nearest loose end" : "its own start";
  const found = `an open line from ${whereText(path.start)} to ${whereText(end)}, with a gap of ${trimmed(gap, 2)} mm to ${other}`;
  return errorAt(place, openFault(operation, found));
}

function openFault(operation: "cut" | "engrave", found: string): Fault {
  return {
    code: operation === "cut" ? "contour-open" : "engraving-open",
    found,
    expected: `a closed contour to ${operation} (gaps up to ${lengthText(JOIN_MM)} are closed)`,
    mend: "Join the ends in the drawing, or, for a line that is only scored, write `do: score` under `lines:` in job.yaml",
  };
}

/** The ends of other lines that the end of a line could have been meant for. */
function loosePoints(line: PlacedPath, open: readonly PlacedPath[]): Point[] {
  const others = open.filter((other) => other !== line);
  return others.flatMap(({ path }) => [path.start, pathEnd(path)]);
}
