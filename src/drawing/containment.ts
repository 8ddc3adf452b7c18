import { crossings, ringIsSimple } from "../geometry/crossing.ts";
import type { Crossing } from "../geometry/crossing.ts";
import { flattenPath } from "../geometry/flatten.ts";
import { pathArea } from "../geometry/path.ts";
import type { Ring } from "../geometry/types.ts";
import { errorAt } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import { BandedRing } from "./banded-ring.ts";
import type { PlacedPath } from "./drawn-line.ts";
import { placesText, whereText } from "./fault.ts";
import { FLATTENING_MM } from "./flattening.ts";

/** A contour that crosses nothing, and how many others lie around it. */
export interface Nested {
  readonly placed: PlacedPath;
  readonly ring: BandedRing;
  /** 0 for an outline, 1 for a hole in it, 2 for a piece inside that hole, and so on. */
  readonly depth: number;
  /** The contour right around it; null at depth 0. */
  readonly around: Nested | null;
}

/** Smaller areas are lines there and back. */
const NO_AREA_MM2 = 1e-4;

/** Which closed contours lie in which; contours without area or that cross are errors. */
export function nested(contours: readonly PlacedPath[]): Checked<readonly Nested[]> {
  const rings = contours.map(({ path }) => flattenPath(path, FLATTENING_MM));
  const flat = contours.filter(({ path }, index) => isFlat(path, rings[index] ?? []));
  if (flat.length > 0) return { value: null, problems: flat.map(degenerate) };
  const crossed = crossings(rings, MOST_CROSSINGS);
  if (crossed.length > 0) return { value: null, problems: crossingProblems(crossed, contours) };
  const value = nest(
    contours.map((placed, at) => ({ placed, ring: new BandedRing(rings[at] ?? []) })),
  );
  return { value, problems: [] };
}

/** No area and yet simple: a figure of eight has none either, but crosses itself. */
function isFlat(path: PlacedPath["path"], ring: Ring): boolean {
  return ring.length < 3 || (Math.abs(pathArea(path)) < NO_AREA_MM2 && ringIsSimple(ring));
}

type Ringed = Pick<Nested, "placed" | "ring">;

/**
 * From left to right, each contour is sought in those that reach as far right as it begins; the one
 * right around it is the smallest of those that hold it, and for contours that do not cross one
 * point decides.
 */
function nest(contours: readonly Ringed[]): Nested[] {
  const order = contours
    .map((contour, index) => ({ ...contour, index }))
    .sort(
      (a, b) =>
        a.ring.box.minX - b.ring.box.minX || b.ring.box.maxX - a.ring.box.maxX || a.index - b.index,
    );
  const found: Nested[] = [];
  const reaching: Nested[] = [];
  for (const { placed, ring, index } of order) {
    let [depth, around, still]: [number, Nested | null, number] = [0, null, 0];
    for (const other of reaching) {
      if (other.ring.box.maxX < ring.box.minX) continue;
      reaching[still++] = other;
      if (!holds(other.ring, ring)) continue;
      depth++;
      if (around === null || other.depth > around.depth) around = other;
    }
    const contour = { placed, ring, depth, around };
    reaching[still++] = contour;
    reaching.length = still;
    found[index] = contour;
  }
  return found;
}

function holds(outer: BandedRing, inner: BandedRing): boolean {
  const [point] = inner.ring;
  const fits = outer.box.minY <= inner.box.minY && outer.box.maxY >= inner.box.maxY;
  return fits && point !== undefined && outer.contains(point);
}

function degenerate({ place, path }: PlacedPath): Problem {
  return errorAt(place, {
    code: "part-degenerate",
    found: `a contour without area at ${whereText(path.start)}`,
    expected: "contours that enclose an area",
    mend: "Delete the contour, or score it by a line rule",
  });
}

/** Enough to see what went wrong. */
const MOST_CROSSINGS = 20;

/** One problem for each two contours, with all their places. */
function crossingProblems(
  found: readonly Crossing[],
  contours: readonly PlacedPath[],
): readonly Problem[] {
  const pairs = new Map<string, { readonly pair: readonly number[]; readonly all: Crossing[] }>();
  for (const crossing of found) {
    const pair = crossing.rings.toSorted((a, b) => a - b);
    const known = pairs.get(pair.join());
    if (known === undefined) pairs.set(pair.join(), { pair, all: [crossing] });
    else known.all.push(crossing);
  }
  return [...pairs.values()].flatMap(({ pair, all }) => {
    const [first, second] = pair.map((index) => contours[index]);
    return first && second ? [crossed(first, second, all)] : [];
  });
}

function crossed(first: PlacedPath, second: PlacedPath, all: readonly Crossing[]): Problem {
  const where = placesText(all.map(({ point }) => point));
  const found =
    first === second
      ? `a contour that crosses or touches itself at ${where}`
      : `a contour that crosses or touches the one of line ${first.place.line ?? "?"} at ${where}`;
  return errorAt(second.place, {
    code: "contour-crossing",
    found,
    expected: "contours that keep clear of themselves and of each other",
    mend:
      first === second
        ? "Draw the contour again so that it runs round once"
        : "Unite or move the contours in the drawing",
  });
}
