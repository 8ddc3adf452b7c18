import { applyToPath, applyToPoint } from "./affine.ts";
import type { Affine } from "./affine.ts";
import { unitVector } from "./arc.ts";
import type { Path, Point, Pose, Region, Ring } from "./types.ts";

/** Laying drawn things on a sheet: mirrored (x to -x), then turned about 0,0, then moved. */

export function posePoint(pose: Pose, point: Point): Point {
  return applyToPoint(poseMatrix(pose), point);
}

/**
 * Arcs stay arcs and cubics cubics. A mirrored pose turns the sense of every sweep round, so a
 * counter-clockwise outline comes out clockwise; `reversePath` gives it back its sense.
 */
export function posePath(pose: Pose, path: Path): Path {
  return applyToPath(poseMatrix(pose), path);
}

/** Keeps the ring's sense: in a mirrored pose its points come in reverse order. */
export function poseRing(pose: Pose, ring: Ring): Ring {
  const matrix = poseMatrix(pose);
  const posed = ring.map((point) => applyToPoint(matrix, point));
  return pose.mirrored ? posed.toReversed() : posed;
}

/** The outer ring stays counter-clockwise and the holes clockwise, mirrored or not. */
export function poseRegion(pose: Pose, region: Region): Region {
  return {
    outer: poseRing(pose, region.outer),
    holes: region.holes.map((hole) => poseRing(pose, hole)),
  };
}

/** Whole quarter turns are exact: no dust of 6e-17 where a zero belongs. */
export function poseMatrix({ mirrored, turnDeg, xMm, yMm }: Pose): Affine {
  const { x: cosine, y: sine } = unitVector(turnDeg);
  const sign = mirrored ? -1 : 1;
  return { a: sign * cosine, b: sign * sine, c: -sine, d: cosine, e: xMm, f: yMm };
}
