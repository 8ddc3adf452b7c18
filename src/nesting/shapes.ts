import type { Region } from "../geometry/types.ts";
import type { Convex } from "./convex.ts";
import type { Meter } from "./meter.ts";
import { openRegion, smallestOf, type Outline, type Smallest } from "./outline.ts";
import { MOST_PARTS, coveringParts } from "./simplify.ts";
import { turnsOf, type Turned } from "./turns.ts";

/** A piece made ready for the search, once for all sizes of sheet. */
export interface Shape extends Outline {
  /** Convex parts that cover the material, as drawn. */
  readonly parts: readonly Convex[];
  /** The ways to lay it that differ, the likeliest first; where any angle is allowed, a choice. */
  readonly turns: readonly Turned[];
}

/** One shape after the other, for an outline of many points takes a while. */
export function* shapesOf(
  outlines: readonly Outline[],
  meter: Meter,
): Generator<void, readonly Shape[], void> {
  const smallest = smallestOf(outlines);
  const most = Math.max(LEAST_PARTS, Math.min(MOST_PARTS, Math.floor(PARTS / outlines.length)));
  const shapes: Shape[] = [];
  for (const outline of outlines) {
    shapes.push(shapeOf(outline, smallest, most));
    const { outer, holes } = outline.piece.region;
    meter.spend(POINT * outer.length + holes.reduce((sum, hole) => sum + hole.length, 0));
    yield;
  }
  return shapes;
}

/** A point of the outer outline takes as long as making so many polygons; one of a hole as long as one. */
const POINT = 20;

/** Of all shapes of a job: every two of them make a no-fit region, some ten seconds in all. */
const PARTS = 2400;
const LEAST_PARTS = 2;

function shapeOf(outline: Outline, smallest: Smallest, most: number): Shape {
  const { open, turns } = seenOf(outline, smallest);
  return { ...outline, parts: open === null ? [outline.hull] : coveringParts(open, most), turns };
}

/** What the search sees of a piece before it cuts it up: see {@link openRegion}. */
export function seenOf(
  { piece, hull }: Outline,
  smallest: Smallest,
): Pick<Shape, "turns"> & { readonly open: Region | null } {
  const open = openRegion(piece.region, smallest);
  return { open, turns: turnsOf(piece, hull, open ?? piece.region) };
}
