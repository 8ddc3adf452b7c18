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
  const widthMm = leastWidth(flattenPath(outline, MEASURING_MM));
  const least = Math.max(GOOD_WEB_THICKNESSES * thicknessMm, BURNT_WEB_MM);
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

/** Between two parallel lines that hold it from both sides, along any of its own sides. */
function leastWidth(ring: Ring): number {
  return ring.reduce((least, a, index) => {
    const b = ring[(index + 1) % ring.length] ?? a;
    const length = distance(a, b);
    if (length === 0) return least;
    let [low, high] = [0, 0];
    for (const p of ring) {
      const across = ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / length;
      low = Math.min(low, across);
      high = Math.max(high, across);
      if (high - low >= least) return least;
    }
    return high - low;
  }, Infinity);
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
