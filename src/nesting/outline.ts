import { boundsOf, ringArea } from "../geometry/ring.ts";
import type { Region, Ring } from "../geometry/types.ts";
import { convexHull, crossItself, leastWidth, type Convex } from "./convex.ts";
import { Edges } from "./edges.ts";
import type { NestPiece } from "./types.ts";

/** What can be said of a piece in no time. */
export interface Outline {
  readonly piece: NestPiece;
  /** Of the material, mm2. */
  readonly areaMm2: number;
  /** Inside the outer outline, holes included, mm2. */
  readonly outerAreaMm2: number;
  /** Around all of its rings. */
  readonly hull: Convex;
}

export function outlineOf(piece: NestPiece): Outline {
  const { outer, holes } = piece.region;
  const border = new Edges([outer]);
  const rings = holes.every((hole) => isInside(border, hole)) ? [outer] : [outer, ...holes];
  const outerAreaMm2 = Math.abs(ringArea(outer));
  const holesMm2 = holes.reduce((sum, hole) => sum + Math.abs(ringArea(hole)), 0);
  return {
    piece,
    areaMm2: outerAreaMm2 - holesMm2,
    outerAreaMm2,
    hull: convexHull(rings.flat()),
  };
}

/** What no piece of the job comes below: holes smaller than this stay empty. */
export interface Smallest {
  readonly widthMm: number;
  readonly areaMm2: number;
}

export function smallestOf(outlines: readonly Outline[]): Smallest {
  return {
    widthMm: Math.min(...outlines.map(({ hull }) => leastWidth(hull))),
    areaMm2: Math.min(...outlines.map(({ outerAreaMm2 }) => outerAreaMm2)),
  };
}

/**
 * A region without the holes that no piece goes into, and without the smallest of very many, the
 * others by falling area; null where rings cross or holes lie astray, so that it is not clear what is
 * material.
 */
export function openRegion({ outer, holes }: Region, smallest: Smallest): Region | null {
  const sized = holes
    .map((hole) => ({ hole, areaMm2: Math.abs(ringArea(hole)) }))
    .filter(({ hole, areaMm2 }) => areaMm2 >= smallest.areaMm2 && canHold(hole, smallest))
    .sort((a, b) => b.areaMm2 - a.areaMm2);
  const open = sized.slice(0, MOST_HOLES).map(({ hole }) => hole);
  const border = new Edges([outer]);
  if (open.some((hole) => !isInside(border, hole)) || crossItself([outer, ...open])) return null;
  // A hole that is filled counts as material: it must lie in nothing else.
  const edges = open.length === 0 ? border : new Edges([outer, ...open]);
  const kept = new Set(open);
  const clear = holes.every((hole) => kept.has(hole) || isInside(edges, hole));
  return clear ? { outer, holes: open } : null;
}

/** Even-odd rule, and no crossing. */
function isInside(edges: Edges, hole: Ring): boolean {
  const first = hole[0];
  return first === undefined || (edges.isAround(first) && !edges.isCrossedBy(hole));
}

/** More are given up anyway: each makes several parts. */
const MOST_HOLES = 32;

function canHold(hole: Ring, { widthMm }: Smallest): boolean {
  const { minX, minY, maxX, maxY } = boundsOf(hole);
  if (Math.min(maxX - minX, maxY - minY) < widthMm) return false;
  const hull = convexHull(hole);
  return hull.length > 2 && leastWidth(hull) >= widthMm;
}
