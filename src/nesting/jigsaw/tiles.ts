import type { Point } from "../../geometry/types.ts";
import { poseRing } from "../../geometry/pose.ts";
import { ringArea } from "../../geometry/ring.ts";
import type { Outline } from "../outline.ts";
import type { SheetChoice } from "../types.ts";

/** A piece in one of its turns, its corners whole numbers of units, counter-clockwise. */
export interface Tile {
  /** Number of the outline. */
  readonly shape: number;
  readonly turnDeg: number;
  readonly mirrored: boolean;
  /** x and y in turn; no three corners in a line. */
  readonly xy: readonly number[];
}

/** Pieces that may have been cut from whole sheets, along straight lines and without a kerf. */
export interface Jigsaw {
  readonly tiles: readonly Tile[];
  /** By number of the outline. */
  readonly copies: readonly number[];
  readonly unitsPerMm: number;
  readonly width: number;
  readonly height: number;
  readonly sheets: number;
}

/**
 * Null unless the areas of all pieces come to those of whole sheets, without gap and margin, and all
 * corners lie on a grid, so that what touches can be seen to touch.
 */
export function jigsawOf(outlines: readonly Outline[], choice: SheetChoice): Jigsaw | null {
  const { form, widthMm, heightMm, gapMm, marginMm } = choice;
  if (form === "roll" || heightMm === null || gapMm > 0 || marginMm > 0) return null;
  const plain = outlines.every(
    ({ piece }) => piece.flatteningMm === 0 && piece.region.holes.length === 0,
  );
  const areaMm2 = outlines.reduce((sum, one) => sum + one.piece.copies * one.outerAreaMm2, 0);
  const sheets = Math.round(areaMm2 / (widthMm * heightMm));
  const left = Math.abs(areaMm2 - sheets * widthMm * heightMm);
  const few = outlines.every(({ piece }) => piece.region.outer.length <= MOST_CORNERS);
  if (!plain || !few || sheets < 1 || left > SAME_SHARE * areaMm2) return null;
  const rings = outlines.map(({ piece }) => piece.region.outer);
  const points = [...rings.flat(), { x: widthMm, y: heightMm }];
  const unitsPerMm = GRIDS.find((grid) => points.every((point) => isOnGrid(point, grid)));
  if (unitsPerMm === undefined) return null;
  return {
    tiles: outlines.flatMap((outline, shape) => tilesOf(outline, shape, unitsPerMm)),
    copies: outlines.map(({ piece }) => piece.copies),
    unitsPerMm,
    width: Math.round(widthMm * unitsPerMm),
    height: Math.round(heightMm * unitsPerMm),
    sheets,
  };
}

const SAME_SHARE = 1e-9;
/** Units in a mm: products of lengths stay whole in a double. */
const GRIDS = [1, 10, 100, 1000];
const MOST_CORNERS = 24;

function isOnGrid({ x, y }: Point, grid: number): boolean {
  return [x, y].every((mm) => Math.abs(mm * grid - Math.round(mm * grid)) < 1e-6);
}

const TURNS = { any: [0, 90, 180, 270], quarter: [0, 90, 180, 270], half: [0, 180], fixed: [0] };

function tilesOf({ piece }: Outline, shape: number, unitsPerMm: number): readonly Tile[] {
  const sides = piece.flip ? [false, true] : [false];
  const tiles = TURNS[piece.turn].flatMap((turnDeg) =>
    sides.map((mirrored): Tile => {
      const ring = poseRing({ mirrored, turnDeg, xMm: 0, yMm: 0 }, piece.region.outer);
      const upright = ringArea(ring) > 0 ? ring : ring.toReversed();
      const corners = upright.map(({ x, y }) => ({
        x: Math.round(x * unitsPerMm),
        y: Math.round(y * unitsPerMm),
      }));
      return { shape, turnDeg, mirrored, xy: withoutStraight(corners) };
    }),
  );
  const seen = new Set<string>();
  return tiles.filter(({ xy }) => {
    const key = fromLowest(xy).join(" ");
    return !seen.has(key) && seen.add(key);
  });
}

function withoutStraight(corners: readonly Point[]): readonly number[] {
  return corners
    .filter((b, index) => {
      const a = corners.at(index - 1)!;
      const c = corners[(index + 1) % corners.length]!;
      return (b.x - a.x) * (c.y - b.y) !== (b.y - a.y) * (c.x - b.x);
    })
    .flatMap(({ x, y }) => [x, y]);
}

/** Moved so that its lowest, leftmost corner is at 0,0 and comes first: the same for the same form. */
function fromLowest(xy: readonly number[]): readonly number[] {
  let first = 0;
  for (let at = 2; at < xy.length; at += 2)
    if (xy[at + 1]! < xy[first + 1]! || (xy[at + 1] === xy[first + 1] && xy[at]! < xy[first]!))
      first = at;
  return [...xy.slice(first), ...xy.slice(0, first)].map(
    (value, at) => value - (at % 2 === 0 ? xy[first]! : xy[first + 1]!),
  );
}
