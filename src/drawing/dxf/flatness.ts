import { IDENTITY } from "../../geometry/affine.ts";
import type { Affine } from "../../geometry/affine.ts";
import type { Fault } from "../../problem.ts";
import type { Fields } from "./fields.ts";

/** Heights and directions out of the plane: a sheet has two dimensions. */

/** Drawing units; less is dust of programs that draw in space. */
const FLAT = 1e-4;
const TILT = 1e-6;

/** Reports heights (z) of the groups that differ: the line is not parallel to the sheet. */
export function needLevel(fields: Fields, ...codes: readonly number[]): void {
  reportSlope(
    fields,
    codes.flatMap((code) => fields.all(code)),
  );
}

export function reportSlope(fields: Fields, heights: readonly number[]): void {
  const low = heights.reduce((least, z) => Math.min(least, z), Infinity);
  const high = heights.reduce((most, z) => Math.max(most, z), -Infinity);
  if (high - low > FLAT) fields.wrong(30, notFlat(low, high));
}

/** Groups of z: of a first point, and of a whole polyline. */
const HEIGHTS: readonly number[] = [30, 38];

/** Whether a level line lies above or below the plane that it is cut in. */
export function isRaised(fields: Fields): boolean {
  return HEIGHTS.some((code) => fields.all(code).some((z) => Math.abs(z) > FLAT));
}

/** Mirrored about the y axis, as seen from below. */
const FROM_BELOW: Affine = { ...IDENTITY, a: -1 };

/**
 * From an entity's own coordinates to the drawing's, by its extrusion direction (groups 210, 220,
 * 230) and the arbitrary axis algorithm of the DXF reference: as it stands for 0,0,1; for 0,0,-1,
 * which mirroring leaves behind, x runs backwards. Any other direction is reported.
 */
export function readExtrusion(fields: Fields): Affine {
  const [x, y, z] = [fields.number(210, 0), fields.number(220, 0), fields.number(230, 1)];
  if (Math.hypot(x, y) <= TILT * Math.abs(z)) return z > 0 ? IDENTITY : FROM_BELOW;
  fields.wrong(210, tilted(`${x}, ${y}, ${z}`));
  return IDENTITY;
}

function notFlat(low: number, high: number): Fault {
  return {
    code: "dxf-not-flat",
    found: `a line from height (z) ${low} to ${high}`,
    expected: "lines that lie flat: all of a line at the same z",
    mend: "Flatten the drawing to the plane z 0 and save it again",
  };
}

function tilted(found: string): Fault {
  return {
    code: "dxf-extrusion",
    found: `an extrusion direction of ${found}`,
    expected: "0, 0, 1 or 0, 0, -1: lines in the plane of the sheet",
    mend: "Draw the line in the plane z 0, seen from above",
  };
}
