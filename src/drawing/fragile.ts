import { flattenPath } from "../geometry/flatten.ts";
import { pathArea, pathBounds } from "../geometry/path.ts";
import { distance } from "../geometry/point.ts";
import type { Path, Point, Ring } from "../geometry/types.ts";
import { warningAt } from "../problem.ts";
import type { Fault, Place, Problem } from "../problem.ts";
import { lengthText, trimmed } from "../units.ts";
import { placesText } from "./fault.ts";
import type { PartGeometry } from "./types.ts";
import { thinWebs } from "./webs.ts";
import type { Web } from "./webs.ts";

/** What the material may not allow. */

/** The smallest inner contour, in thicknesses (service design guide). */
const SMALLEST_HOLE_THICKNESSES = 0.7;

/** A good web between cut lines is as wide as the sheet is thick (service kerf page). */
const GOOD_WEB_THICKNESSES = 1;

/** Webs under half a millimetre burn away (service artwork guide). */
export const BURNT_WEB_MM = 0.5;

/** Polygons for measuring; what is nearer to a limit than two of it is let through. */
const MEASURING_MM = 0.03;

/** Holes and webs of a part thinner than a sheet of that thickness allows, as warnings. */
export function fragileSpots(part: PartGeometry, thicknessMm: number): Problem[] {
  const { place, outline, holes } = part;
  const rings = [outline, ...holes].map((path) => flattenPath(path, MEASURING_MM));
  const enough = Math.max(GOOD_WEB_THICKNESSES * thicknessMm, BURNT_WEB_MM) - 2 * MEASURING_MM;
  const webs = thinWebs(rings, enough, MEASURING_MM);
  const isBurnt = ({ widthMm }: Web): boolean => widthMm < BURNT_WEB_MM - 2 * MEASURING_MM;
  const burnt = webs.filter(isBurnt);
  const thin = webs.filter((web) => !isBurnt(web) && web.widthMm < thicknessMm);
  return [
    ...thinPart(outline, thicknessMm, place),
    ...smallHoles(holes, thicknessMm, place),
    ...warned(burnt, place, {
      code: "web-burnt",
      expected: `at least ${lengthText(BURNT_WEB_MM)} of material: less burns away`,
      mend: "Move the lines apart, or unite them",
    }),
    ...warned(thin, place, {
      code: "web-thin",
      expected: `webs as wide as the material is thick, ${lengthText(thicknessMm)}: thinner ones break and warp`,
      mend: "Move the lines apart, or see that the web carries nothing",
    }),
  ];
}

/** A part may be a single web: what it is narrower than the sheet is thick breaks like one. */
function thinPart(outline: Path, thicknessMm: number, place: Place): Problem[] {
  const least = Math.max(GOOD_WEB_THICKNESSES * thicknessMm, BURNT_WEB_MM);
  const widthMm = leastWidth(flattenPath(outline, MEASURING_MM), least);
  if (widthMm >= least - 2 * MEASURING_MM) return [];
  return [
    warningAt(place, {
      code: "part-thin",
      found: `a part ${trimmed(widthMm, 2)} mm wide where it is narrowest`,
      expected: `parts at least as wide as the material is thick, ${lengthText(least)}: narrower ones break, char and fall through the bed`,
      mend: "Make the part wider, or see that its size and the unit of its lengths are meant",
    }),
  ];
}

/**
 * Between two parallel lines that hold it from both sides, along its own sides; the limit where it is
 * not less. Of very many sides only some are tried: then neighbours run nearly alike.
 */
function leastWidth(ring: Ring, limitMm: number): number {
  const step = Math.ceil(ring.length / MOST_SIDES);
  let least = limitMm;
  for (let index = 0; index < ring.length; index += step)
    least = Math.min(least, widthAlong(ring, index, least));
  return least;
}

const MOST_SIDES = 2000;

/** Looks from the far end of the ring, where a wide part soon shows. */
function widthAlong(ring: Ring, index: number, enoughMm: number): number {
  const [a, b] = [ring[index], ring[(index + 1) % ring.length]];
  const length = a === undefined || b === undefined ? 0 : distance(a, b);
  if (a === undefined || b === undefined || length === 0) return enoughMm;
  const half = index + Math.floor(ring.length / 2);
  let [low, high] = [0, 0];
  for (let k = 0; k < ring.length && high - low < enoughMm; k++) {
    const p = ring[(half + k) % ring.length] ?? a;
    const across = ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / length;
    low = Math.min(low, across);
    high = Math.max(high, across);
  }
  return high - low;
}

/** A slot counts as the round hole of its area: slots are looked at with what they take. */
function smallHoles(holes: readonly Path[], thicknessMm: number, place: Place): Problem[] {
  const least = SMALLEST_HOLE_THICKNESSES * thicknessMm;
  const small = holes
    .map((hole) => ({ acrossMm: 2 * Math.sqrt(Math.abs(pathArea(hole)) / Math.PI), hole }))
    .filter(({ acrossMm }) => acrossMm < least - 2 * MEASURING_MM);
  const smallest = small.reduce((low, { acrossMm }) => Math.min(low, acrossMm), Infinity);
  if (small.length === 0) return [];
  return [
    warningAt(place, {
      code: "hole-small",
      found: `${small.length === 1 ? "a hole" : `${small.length} holes, the smallest`} of ${trimmed(smallest, 2)} mm, at ${placesText(small.map(({ hole }) => middle(hole)))}`,
      expected: `holes of at least ${lengthText(least)}, 0.7 of the thickness: smaller ones char and close`,
      mend: "Make the hole larger, score it, or drill it later",
    }),
  ];
}

function middle(hole: Path): Point {
  const { minX, minY, maxX, maxY } = pathBounds(hole);
  return { x: (minX + maxX) / 2, y: (minY + maxY) / 2 };
}

function warned(webs: readonly Web[], place: Place, fault: Omit<Fault, "found">): Problem[] {
  const [narrowest] = webs;
  if (narrowest === undefined) return [];
  const width = `${trimmed(narrowest.widthMm, 1)} mm`;
  const found = `${webs.length === 1 ? "a web of" : `${webs.length} webs, the thinnest`} ${width} between cut lines, at ${placesText(webs.map(({ at }) => at))}`;
  return [warningAt(place, { ...fault, found })];
}
