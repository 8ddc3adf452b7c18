import { unitVector } from "../geometry/arc.ts";
import { distance, distanceToSide } from "../geometry/point.ts";
import { pointInRing } from "../geometry/ring.ts";
import type { Box, Point, Ring } from "../geometry/types.ts";
import type { HolePattern } from "../job/types.ts";
import type { Fault } from "../problem.ts";
import { lengthText, trimmed } from "../units.ts";
import type { RoundHole } from "./types.ts";

/** Where the holes of a shape are, and whether it has room for them. */

/** @param middle that patterns lie about: of a polygon that of its circle, else of the box. */
export function holesOf(patterns: readonly HolePattern[], box: Box, middle: Point): RoundHole[] {
  return patterns.flatMap((pattern) =>
    centresOf(pattern, box, middle).map((centre) => ({ diameterMm: pattern.diameterMm, centre })),
  );
}

/** Corner holes that are farther from their sides than from the opposite ones; else null. */
export function insetFault(patterns: readonly HolePattern[], box: Box): Fault | null {
  const most = Math.min(box.maxX - box.minX, box.maxY - box.minY) / 2;
  const astray = patterns.find((one) => one.kind === "corners" && one.insetMm > most);
  if (astray?.kind !== "corners") return null;
  return {
    code: "hole-astray",
    found: `corners ${lengthText(astray.insetMm)} from the sides`,
    expected: `at most ${lengthText(most)}, half of the shorter side`,
    mend: MEND,
  };
}

/** The first hole that leaves the outline, or meets another or the bore; null when there is none. */
export function holeFault(
  outline: Ring,
  bores: readonly RoundHole[],
  holes: readonly RoundHole[],
): Fault | null {
  const astray = holes.find(({ diameterMm, centre }) => roomAt(centre, outline) <= diameterMm / 2);
  if (astray !== undefined)
    return fault(astray, "holes inside of the outline, with material around them");
  const pair = meeting([...bores, ...holes]);
  return pair && fault(pair[0], `material between it and ${holeText(pair[1])}`);
}

/**
 * Two holes with no material between them, the one written later first. Looked for from left to
 * right, because most are far from each other.
 */
function meeting(holes: readonly RoundHole[]): readonly [RoundHole, RoundHole] | null {
  let near: RoundHole[] = [];
  for (const hole of holes.toSorted((a, b) => leftOf(a) - leftOf(b))) {
    near = near.filter((one) => leftOf(one) + one.diameterMm >= leftOf(hole));
    const other = near.find((one) => meets(one, hole));
    if (other !== undefined)
      return holes.indexOf(hole) > holes.indexOf(other) ? [hole, other] : [other, hole];
    near.push(hole);
  }
  return null;
}

function leftOf({ centre, diameterMm }: RoundHole): number {
  return centre.x - diameterMm / 2;
}

function centresOf(pattern: HolePattern, box: Box, { x, y }: Point): Point[] {
  const { minX, minY, maxX, maxY } = box;
  switch (pattern.kind) {
    case "at":
      return pattern.points.map(({ xMm, yMm }) => ({ x: minX + xMm, y: minY + yMm }));
    case "corners": {
      const [left, right] = [minX + pattern.insetMm, maxX - pattern.insetMm];
      const [low, high] = [minY + pattern.insetMm, maxY - pattern.insetMm];
      return [left, right].flatMap((across) => [low, high].map((up) => ({ x: across, y: up })));
    }
    case "centre":
      return [{ x, y }];
    case "circle":
      return Array.from({ length: pattern.count }, (_, index) => {
        const away = unitVector(90 + (360 * index) / pattern.count);
        const radius = pattern.circleMm / 2;
        return { x: x + radius * away.x, y: y + radius * away.y };
      });
    case "grid":
      return Array.from({ length: pattern.columns * pattern.rows }, (_, index) => {
        const [column, row] = [index % pattern.columns, Math.floor(index / pattern.columns)];
        return {
          x: x + (column - (pattern.columns - 1) / 2) * pattern.pitchXMm,
          y: y + (row - (pattern.rows - 1) / 2) * pattern.pitchYMm,
        };
      });
  }
}

/** From a point inside to the outline; below 0 outside. */
function roomAt(point: Point, outline: Ring): number {
  const away = outline.reduce((least, a, index) => {
    const b = outline[(index + 1) % outline.length] ?? a;
    return Math.min(least, distanceToSide(point, a, b));
  }, Infinity);
  return pointInRing(point, outline) ? away : -away;
}

function meets(a: RoundHole, b: RoundHole): boolean {
  return distance(a.centre, b.centre) <= (a.diameterMm + b.diameterMm) / 2;
}

function fault(hole: RoundHole, expected: string): Fault {
  return {
    code: "hole-astray",
    found: holeText(hole),
    expected,
    mend: MEND,
  };
}

const MEND = "Correct the holes or the size of the shape";

function holeText({ diameterMm, centre }: RoundHole): string {
  return `a hole of ${trimmed(diameterMm, 3)} mm at ${trimmed(centre.x, 2)}, ${trimmed(centre.y, 2)} mm`;
}
