import { distanceToLine } from "../geometry/point.ts";
import { boundsOf } from "../geometry/ring.ts";
import type { Point, Region, Ring } from "../geometry/types.ts";
import { convexHull, convexParts, type Convex } from "./convex.ts";
import { GrowingRegion } from "./growing.ts";

/**
 * What the search sees of an outline: convex parts that cover its material, and more of the sheet
 * where that saves the search time. The judge looks at the true outline alone.
 */

/**
 * Covers a region whose rings do not cross; its holes come by falling area. An outline of very many
 * points grows to {@link MOST_POINTS} first, a little where that costs least. Then it may grow by
 * some {@link GROWTHS} until it makes few parts, for the search's time goes with the square of their
 * number; with more than `most` parts it must, and gives up its smaller holes.
 */
export function coveringParts(region: Region, most = MOST_PARTS): readonly Convex[] {
  const box = boundsOf(region.outer);
  const diagonal = Math.hypot(box.maxX - box.minX, box.maxY - box.minY);
  const clean = (ring: Ring): Ring => cleanRing(ring, NOTHING * diagonal);
  const exact = { outer: clean(region.outer), holes: region.holes.map(clean) };
  let growing = new GrowingRegion(exact, box);
  growing.grow({ mostMm: diagonal, enough: FEW_POINTS, points: MOST_POINTS });
  let best = convexParts(growing.region());
  for (const share of GROWTHS) {
    if (best.length <= Math.min(FEW_PARTS, most)) return best;
    growing.grow({ mostMm: share * diagonal, enough: FEW_POINTS });
    const parts = convexParts(growing.region());
    if (parts.length < best.length) best = parts;
  }
  for (let share = FIRST_FORCED; best.length > most; share *= 2) {
    const { outer, holes } = growing.region();
    if (share > 1 && holes.length === 0) return [convexHull(outer)];
    const halve = holes.length > FEW_HOLES || share > LAST_HOLED;
    const kept = halve ? holes.slice(0, Math.floor(holes.length / 2)) : holes;
    growing = new GrowingRegion({ outer, holes: kept }, box);
    growing.grow({ mostMm: share * diagonal, enough: LEAST_POINTS });
    best = convexParts(growing.region());
  }
  return best;
}

/** Share of an outline's diagonal that counts as nothing. */
const NOTHING = 1e-11;
/** Of all rings of an outline; a round one of these is a thousandth of its radius too large. */
const MOST_POINTS = 400;
/** Shares of the diagonal that an outline may grow by at one place, one after the other. */
const GROWTHS: readonly number[] = [0.0025, 0.005, 0.01];
const FEW_PARTS = 16;
/** Two pieces of so many parts make a no-fit region of their square: some hundredths of a second. */
export const MOST_PARTS = 64;
/** Rings of so few points are left as they are; where parts must be fewer, of so few. */
const FEW_POINTS = 16;
const LEAST_POINTS = 6;
/** The first share beyond those that are freely chosen. */
const FIRST_FORCED = 0.02;
/** Few holes are kept until the outline has to grow by more than this share. */
const FEW_HOLES = 4;
const LAST_HOLED = 0.1;

/** Without repeated points and points on a straight line; shape and direction stay. */
export function cleanRing(ring: Ring, toleranceMm: number): Ring {
  const apart = ring.filter((point, index) => {
    const before = ring[(index + ring.length - 1) % ring.length]!;
    return Math.hypot(point.x - before.x, point.y - before.y) > toleranceMm;
  });
  const kept = [...apart];
  for (let index = 0; index < kept.length && kept.length > 3;) {
    const before = kept[(index + kept.length - 1) % kept.length]!;
    const after = kept[(index + 1) % kept.length]!;
    if (isBetween(before, kept[index]!, after, toleranceMm)) kept.splice(index, 1);
    else index++;
  }
  return kept;
}

function isBetween(a: Point, b: Point, c: Point, toleranceMm: number): boolean {
  const ahead = (b.x - a.x) * (c.x - b.x) + (b.y - a.y) * (c.y - b.y) > 0;
  return ahead && distanceToLine(b, a, c) <= toleranceMm;
}
