import type { Point } from "../../geometry/types.ts";
import type { Laid } from "../filled.ts";
import type { Random } from "../../random.ts";
import type { Shape } from "../shapes.ts";
import { turnedAs } from "../turns.ts";

/**
 * Angles for a shape that may lie at any: most of them bring a long edge of it along a long edge of a
 * copy that lies there or along the sheet, the others are drawn by lot. Where shapes are few there
 * are more angles, for each makes a no-fit region with every stance of every other shape.
 *
 * @param laid all copies.
 * @param stances how many ways of the shape are tried beside.
 */
export function freeTurns(
  shape: Shape,
  shapes: readonly Shape[],
  laid: readonly Laid[],
  stances: number,
  random: Random,
): readonly Laid["variant"][] {
  const { piece, hull } = shape;
  // A disc has one way to lie.
  if (piece.turn !== "any" || shape.turns.length === 1) return [];
  const forms = new Set(laid.map((copy) => copy.shape)).size;
  const count = Math.floor(Math.sqrt(stances ** 2 + FIELDS / forms ** 2) - stances);
  const edges = longEdges(piece.region.outer);
  return Array.from({ length: count }, () => {
    const mirrored = piece.flip && random() < 0.5;
    const edge = drawn(edges, random);
    const turnDeg = directionFor(mirrored, shapes, laid, random) - (mirrored ? 180 - edge : edge);
    return turnedAs(hull, ((turnDeg % 360) + 360) % 360, mirrored);
  });
}

/** No-fit regions that the angles of all shapes may make. */
const FIELDS = 2500;

/** Where an edge is to point to. */
function directionFor(
  mirrored: boolean,
  shapes: readonly Shape[],
  laid: readonly Laid[],
  random: Random,
): number {
  const lot = random();
  if (lot < BY_LOT) return 360 * random();
  if (lot < ALONG_SHEET) return 90 * Math.floor(4 * random());
  const { shape, variant } = laid[Math.floor(random() * laid.length)]!;
  const edge = drawn(longEdges(shapes[shape]!.piece.region.outer), random);
  const pointing = variant.turnDeg + (variant.mirrored ? 180 - edge : edge);
  // Material lies on the same side of the edges of both, unless one of them lies face down.
  return pointing + (mirrored === variant.mirrored ? 180 : 0);
}

/** Lots below the first are for any angle, below the second for one along the sheet. */
const BY_LOT = 0.25;
const ALONG_SHEET = 0.45;

function drawn(directions: readonly number[], random: Random): number {
  return directions[Math.floor(random() * directions.length)]!;
}

/** Directions of the longest edges, degrees. */
function longEdges(outer: readonly Point[]): readonly number[] {
  const edges = outer.map((a, index) => {
    const b = outer[(index + 1) % outer.length]!;
    return { x: b.x - a.x, y: b.y - a.y, length: Math.hypot(b.x - a.x, b.y - a.y) };
  });
  const longest = Math.max(...edges.map(({ length }) => length));
  return edges
    .filter(({ length }) => length >= longest * LONG)
    .map(({ x, y }) => (Math.atan2(y, x) * 180) / Math.PI);
}

/** Share of the longest edge. */
const LONG = 0.4;
