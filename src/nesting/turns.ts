import { unitVector } from "../geometry/arc.ts";
import { poseRing } from "../geometry/pose.ts";
import { boundsOf } from "../geometry/ring.ts";
import type { Box, Point, Region } from "../geometry/types.ts";
import { turning, type Convex } from "./convex.ts";
import { Edges } from "./edges.ts";
import type { NestPiece } from "./types.ts";

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

/**
 * The ways to lay a piece that differ, the likeliest first; where any angle is allowed, a choice.
 * Where `region` comes to the same, so does the piece to the search.
 */
export function turnsOf(piece: NestPiece, hull: Convex, region: Region): readonly Turned[] {
  const angles = { any: anglesWorthTrying(hull), quarter: QUARTERS, half: HALVES, fixed: [0] };
  const turns: Turned[] = [];
  const laid: Edges[] = [];
  for (const { turnDeg, mirrored } of angles[piece.turn].flatMap((turnDeg) =>
    sides(turnDeg, piece),
  )) {
    const edges = centred(region, turnDeg, mirrored);
    const tolerance = piece.flatteningMm + SAME_SHARE * extent(edges.box);
    if (laid.some((other) => same(edges, other, tolerance))) continue;
    laid.push(edges);
    turns.push({ number: turns.length, ...turnedAs(hull, turnDeg, mirrored) });
  }
  return turns;
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
export function boxAngle(hull: Convex): number {
  let best = { turnDeg: 0, area: boxArea(hull, 0) };
  for (const { x, y } of longestEdges(hull)) {
    const edgeDeg = (Math.atan2(y, x) * 180) / Math.PI;
    const turnDeg = (((-edgeDeg % 90) + 90) % 90) + 0;
    const area = boxArea(hull, turnDeg);
    if (area < best.area * (1 - SAME_SHARE)) best = { turnDeg, area };
  }
  return best.turnDeg;
}

function length({ x, y }: Point): number {
  return Math.hypot(x, y);
}

/** As they come around; of a hull that is nearly round some are as good as all. */
function longestEdges(hull: Convex): readonly Point[] {
  const edges = hull.map((a, index) => {
    const b = hull[(index + 1) % hull.length]!;
    return { index, x: b.x - a.x, y: b.y - a.y };
  });
  if (edges.length <= MOST_EDGES) return edges;
  edges.sort((a, b) => length(b) - length(a) || a.index - b.index);
  return edges.slice(0, MOST_EDGES).sort((a, b) => a.index - b.index);
}

const MOST_EDGES = 96;

function boxArea(hull: Convex, turnDeg: number): number {
  const { x: cosine, y: sine } = unitVector(turnDeg);
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { x, y } of hull) {
    const [across, along] = [cosine * x - sine * y, sine * x + cosine * y];
    if (across < minX) minX = across;
    if (across > maxX) maxX = across;
    if (along < minY) minY = along;
    if (along > maxY) maxY = along;
  }
  return (maxX - minX) * (maxY - minY);
}

/** The rings turned, with the middle of the outer one's area at 0,0. */
function centred(region: Region, turnDeg: number, mirrored: boolean): Edges {
  const pose = { mirrored, turnDeg, xMm: 0, yMm: 0 };
  const rings = [region.outer, ...region.holes].map((ring) => poseRing(pose, ring));
  const middle = middleOf(rings[0]!);
  return new Edges(
    rings.map((ring) => ring.map(({ x, y }) => ({ x: x - middle.x, y: y - middle.y }))),
  );
}

function middleOf(ring: readonly Point[]): Point {
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

function extent({ minX, minY, maxX, maxY }: Box): number {
  return Math.max(maxX - minX, maxY - minY);
}

/** Whether every corner of each lies on an edge of the other. */
function same(a: Edges, b: Edges, tolerance: number): boolean {
  const apart = Math.max(
    Math.abs(a.box.minX - b.box.minX),
    Math.abs(a.box.minY - b.box.minY),
    Math.abs(a.box.maxX - b.box.maxX),
    Math.abs(a.box.maxY - b.box.maxY),
  );
  if (apart > 2 * tolerance) return false;
  const liesOn = (one: Edges, other: Edges): boolean =>
    one.points.every((point) => other.touches(point, tolerance));
  return liesOn(a, b) && liesOn(b, a);
}
