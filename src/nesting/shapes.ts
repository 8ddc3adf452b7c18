import { poseRing } from "../geometry/pose.ts";
import { boundsOf, pointInRing, ringArea } from "../geometry/ring.ts";
import type { Box, Point, Region, Ring } from "../geometry/types.ts";
import {
  convexHull,
  convexParts,
  crossItself,
  leastWidth,
  turning,
  type Convex,
} from "./convex.ts";
import { cleanRing, grownRing } from "./simplify.ts";
import type { NestPiece } from "./types.ts";

/** A piece made ready for the search, once for all sizes of sheet. */
export interface Shape {
  readonly piece: NestPiece;
  /** Of the material, mm2. */
  readonly areaMm2: number;
  /** Inside the outer outline, holes included, mm2. */
  readonly outerAreaMm2: number;
  readonly hull: Convex;
  /** Convex parts that cover the material, as drawn. */
  readonly parts: readonly Convex[];
  /** The ways to lay it that differ, the likeliest first; where any angle is allowed, a choice. */
  readonly turns: readonly Turned[];
}

/** A way to lay a piece, not moved yet. */
export interface Turned {
  /** Among the shape's turns, from 0. */
  readonly number: number;
  readonly turnDeg: number;
  readonly mirrored: boolean;
  /** Around the true outline. */
  readonly box: Box;
  /** Whether it has an upright edge to touch others with, so that exact fits are worth a look. */
  readonly upright: boolean;
}

export function shapesOf(pieces: readonly NestPiece[]): readonly Shape[] {
  const hulls = pieces.map(({ region }) => convexHull([region.outer, ...region.holes].flat()));
  const smallest: Smallest = {
    widthMm: Math.min(...hulls.map(leastWidth)),
    areaMm2: Math.min(...pieces.map(({ region }) => Math.abs(ringArea(region.outer)))),
  };
  return pieces.map((piece, index) => {
    const outerAreaMm2 = Math.abs(ringArea(piece.region.outer));
    const holesMm2 = piece.region.holes.reduce((sum, hole) => sum + Math.abs(ringArea(hole)), 0);
    return {
      piece,
      areaMm2: outerAreaMm2 - holesMm2,
      outerAreaMm2,
      hull: hulls[index]!,
      parts: partsOf(piece.region, smallest),
      turns: turnsOf(piece, hulls[index]!, piece.region),
    };
  });
}

/** A piece laid so; the hull says it all. */
export function turnedAs(hull: Convex, turnDeg: number, mirrored: boolean): Omit<Turned, "number"> {
  const laid = poseRing({ mirrored, turnDeg, xMm: 0, yMm: 0 }, hull);
  const box = boundsOf(laid);
  const upright = laid.some((a, index) => {
    const b = laid[(index + 1) % laid.length]!;
    const [across, along] = [Math.abs(b.x - a.x), Math.abs(b.y - a.y)];
    return across <= SAME_SHARE * along && along >= UPRIGHT_SHARE * (box.maxY - box.minY);
  });
  return { turnDeg, mirrored, box, upright };
}

/** Share of its height that an upright edge must have to count. */
const UPRIGHT_SHARE = 0.05;

/** What no piece of the job comes below: holes smaller than this stay empty. */
interface Smallest {
  readonly widthMm: number;
  readonly areaMm2: number;
}

/**
 * Shares of a piece's diagonal that its outline may grow by at one place to have fewer points: the
 * first that makes few parts of it, for the search's time goes with the square of their number.
 */
const GROWTHS: readonly number[] = [0.0025, 0.005, 0.01];
const FEW_PARTS = 16;
/** Rings of so few points are left as they are. */
const FEW_POINTS = 16;
/** Share of a piece's diagonal that counts as nothing. */
const NOTHING = 1e-11;

function partsOf(region: Region, smallest: Smallest): readonly Convex[] {
  const rings = [region.outer, ...region.holes];
  const strays = region.holes.some((hole) => !pointInRing(hole[0]!, region.outer));
  if (strays || crossItself(rings)) return [convexHull(rings.flat())];
  const box = boundsOf(region.outer);
  const diagonal = Math.hypot(box.maxX - box.minX, box.maxY - box.minY);
  const holes = region.holes.filter((hole) => canHold(hole, smallest));
  const clean = (ring: Ring) => cleanRing(ring, NOTHING * diagonal);
  const exact = { outer: clean(region.outer), holes: holes.map(clean) };
  let best = convexParts(exact);
  for (const growth of GROWTHS) {
    if (best.length <= FEW_PARTS) break;
    const grow = (ring: Ring) => grownRing(ring, growth * diagonal, FEW_POINTS, box);
    const grown = { outer: grow(exact.outer), holes: exact.holes.map(grow) };
    const parts = convexParts(grown);
    // One part may be the hull that stands in for a ring that growing made cross itself.
    if (parts.length < best.length && (parts.length > 1 || isConvex(grown))) best = parts;
  }
  return best;
}

function canHold(hole: Ring, { widthMm, areaMm2 }: Smallest): boolean {
  const hull = convexHull(hole);
  return hull.length > 2 && leastWidth(hull) >= widthMm && Math.abs(ringArea(hole)) >= areaMm2;
}

function isConvex({ outer, holes }: Region): boolean {
  const at = (index: number) => outer[index % outer.length]!;
  return (
    holes.length === 0 &&
    outer.every((point, index) => turning(point, at(index + 1), at(index + 2)) >= 0)
  );
}

/** The ways to lay a piece that differ. */
export function turnsOf(piece: NestPiece, hull: Convex, region: Region): readonly Turned[] {
  const angles = { any: anglesWorthTrying(hull), quarter: QUARTERS, half: HALVES, fixed: [0] };
  const turns: Turned[] = [];
  const laid: (readonly Ring[])[] = [];
  for (const { turnDeg, mirrored } of angles[piece.turn].flatMap((turnDeg) =>
    sides(turnDeg, piece),
  )) {
    const rings = centred(region, turnDeg, mirrored);
    const tolerance = piece.flatteningMm + SAME_SHARE * extent(rings[0]!);
    if (laid.some((other) => same(rings, other, tolerance))) continue;
    laid.push(rings);
    turns.push({ number: turns.length, ...turnedAs(hull, turnDeg, mirrored) });
  }
  return turns;
}

function sides(
  turnDeg: number,
  { flip }: NestPiece,
): readonly Pick<Turned, "turnDeg" | "mirrored">[] {
  const faceUp = { turnDeg, mirrored: false };
  return flip ? [faceUp, { turnDeg, mirrored: true }] : [faceUp];
}

const QUARTERS: readonly number[] = [0, 90, 180, 270];
const HALVES: readonly number[] = [0, 180];
const EIGHTHS: readonly number[] = [0, 90, 180, 270, 45, 135, 225, 315];
/** Two ways to lay a piece are the same when their outlines differ by no more of its size. */
const SAME_SHARE = 1e-7;

/** Multiples of 45 degrees, and those that lay its smallest box along the sheet. */
function anglesWorthTrying(hull: Convex): readonly number[] {
  const base = boxAngle(hull);
  const aligned = QUARTERS.map((quarter) => (base + quarter) % 360);
  return [...aligned, ...EIGHTHS.filter((eighth) => !aligned.includes(eighth))];
}

/** The turn, 0 to 90 degrees, that makes the box smallest: it lies along an edge of the hull. */
function boxAngle(hull: Convex): number {
  let best = { turnDeg: 0, area: boxArea(hull, 0) };
  for (const [index, a] of hull.entries()) {
    const b = hull[(index + 1) % hull.length]!;
    const edgeDeg = (Math.atan2(b.y - a.y, b.x - a.x) * 180) / Math.PI;
    const turnDeg = (((-edgeDeg % 90) + 90) % 90) + 0;
    const area = boxArea(hull, turnDeg);
    if (area < best.area * (1 - SAME_SHARE)) best = { turnDeg, area };
  }
  return best.turnDeg;
}

function boxArea(hull: Convex, turnDeg: number): number {
  const { minX, minY, maxX, maxY } = turnedAs(hull, turnDeg, false).box;
  return (maxX - minX) * (maxY - minY);
}

/** The rings turned, with the middle of the outer one's area at 0,0. */
function centred(region: Region, turnDeg: number, mirrored: boolean): readonly Ring[] {
  const pose = { mirrored, turnDeg, xMm: 0, yMm: 0 };
  const rings = [region.outer, ...region.holes].map((ring) => poseRing(pose, ring));
  const middle = middleOf(rings[0]!);
  return rings.map((ring) => ring.map(({ x, y }) => ({ x: x - middle.x, y: y - middle.y })));
}

function middleOf(ring: Ring): Point {
  const origin = ring[0]!;
  let [x, y, doubled] = [0, 0, 0];
  for (const [index, a] of ring.entries()) {
    const b = ring[(index + 1) % ring.length]!;
    const turn = turning(origin, a, b);
    x += (turn * (a.x + b.x - 2 * origin.x)) / 3;
    y += (turn * (a.y + b.y - 2 * origin.y)) / 3;
    doubled += turn;
  }
  return doubled === 0 ? origin : { x: origin.x + x / doubled, y: origin.y + y / doubled };
}

function extent(ring: Ring): number {
  const { minX, minY, maxX, maxY } = boundsOf(ring);
  return Math.max(maxX - minX, maxY - minY);
}

/** Whether every corner of each lies on an edge of the other. */
function same(a: readonly Ring[], b: readonly Ring[], tolerance: number): boolean {
  return liesOn(a, b, tolerance) && liesOn(b, a, tolerance);
}

function liesOn(a: readonly Ring[], b: readonly Ring[], tolerance: number): boolean {
  return a.every((ring) =>
    ring.every((point) => b.some((other) => isOnRing(point, other, tolerance))),
  );
}

function isOnRing({ x, y }: Point, ring: Ring, tolerance: number): boolean {
  return ring.some((a, index) => {
    const b = ring[(index + 1) % ring.length]!;
    const [dx, dy, px, py] = [b.x - a.x, b.y - a.y, x - a.x, y - a.y];
    const square = dx * dx + dy * dy;
    const along = square === 0 ? 0 : Math.min(1, Math.max(0, (px * dx + py * dy) / square));
    return Math.hypot(px - along * dx, py - along * dy) <= tolerance;
  });
}
