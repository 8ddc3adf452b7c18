import { firstCrossing } from "../geometry/crossing.ts";
import { flattenPath } from "../geometry/flatten.ts";
import { pathArea } from "../geometry/path.ts";
import { boxesOverlap, pointInRing, ringBounds } from "../geometry/ring.ts";
import type { Box, Ring } from "../geometry/types.ts";
import { errorAt } from "../problem.ts";
import type { Problem } from "../problem.ts";
import type { PlacedPath } from "./drawn-line.ts";
import { whereText } from "./fault.ts";
import { FLATTENING_MM } from "./flattening.ts";

/** Which of a part's contours is its outline, and which are holes in it. */
export interface OutlineAndHoles {
  readonly outline: PlacedPath;
  readonly holes: readonly PlacedPath[];
}

/** Smaller areas are lines there and back. */
const NO_AREA_MM2 = 1e-4;

/** Exactly one outermost contour, all others directly inside it; anything else is an error. */
export function outlineAndHoles(
  contours: readonly PlacedPath[],
): OutlineAndHoles | readonly Problem[] {
  const measured = contours.map(measure);
  const flat = measured.filter(({ ring, placed }) => ring.length < 3 || isFlat(placed, ring));
  if (flat.length > 0) return flat.map(({ placed }) => degenerate(placed));
  const crossing = firstCrossing(measured.map(({ ring }) => ring));
  if (crossing !== null) {
    const [first, second] = crossing.rings
      .toSorted((a, b) => a - b)
      .map((index) => contours[index]);
    return first && second ? [crossed(first, second, whereText(crossing.point))] : [];
  }
  const nested = measured.map((one) => ({
    placed: one.placed,
    depth: measured.filter((other) => other !== one && contains(other, one)).length,
  }));
  const [outline, ...more] = nested.filter(({ depth }) => depth === 0);
  const islands = nested.filter(({ depth }) => depth > 1);
  const problems = [
    ...more.map(({ placed }) => secondOutline(placed)),
    ...islands.map(({ placed }) => island(placed)),
  ];
  if (problems.length > 0 || outline === undefined) return problems;
  return {
    outline: outline.placed,
    holes: nested.filter(({ depth }) => depth === 1).map(({ placed }) => placed),
  };
}

interface Measured {
  readonly placed: PlacedPath;
  readonly ring: Ring;
  readonly box: Box;
}

function measure(placed: PlacedPath): Measured {
  const ring = flattenPath(placed.path, FLATTENING_MM);
  return { placed, ring, box: ringBounds(ring) };
}

/** No area and yet simple: a figure of eight has none either, but crosses itself. */
function isFlat({ path }: PlacedPath, ring: Ring): boolean {
  return Math.abs(pathArea(path)) < NO_AREA_MM2 && firstCrossing([ring]) === null;
}

/** For contours that do not cross, one point decides. */
function contains(outer: Measured, inner: Measured): boolean {
  const [point] = inner.ring;
  return (
    point !== undefined && boxesOverlap(outer.box, inner.box) && pointInRing(point, outer.ring)
  );
}

function degenerate({ place, path }: PlacedPath): Problem {
  return errorAt(place, {
    code: "part-degenerate",
    found: `a contour without area at ${whereText(path.start)}`,
    expected: "contours that enclose an area",
    mend: "Delete the contour, or score it by a line rule",
  });
}

function crossed(first: PlacedPath, second: PlacedPath, where: string): Problem {
  const found =
    first === second
      ? `a contour that crosses or touches itself at ${where}`
      : `a contour that crosses or touches the one of line ${first.place.line ?? "?"} at ${where}`;
  return errorAt(second.place, {
    code: "contour-crossing",
    found,
    expected: "contours that keep clear of themselves and of each other",
    mend: "Unite or move the contours in the drawing",
  });
}

function secondOutline({ place, path }: PlacedPath): Problem {
  return errorAt(place, {
    code: "outline-several",
    found: `one more outline at ${whereText(path.start)}`,
    expected: "one outline for a part, with its holes inside",
    mend: "Give each outline its own id in the drawing and its own row of the parts list (file.svg#id)",
  });
}

function island({ place, path }: PlacedPath): Problem {
  return errorAt(place, {
    code: "contour-island",
    found: `a contour inside a hole at ${whereText(path.start)}`,
    expected: "nothing to cut inside a hole: it would fall out as a piece of its own",
    mend: "Give the inner piece its own id and row of the parts list, or delete it",
  });
}
