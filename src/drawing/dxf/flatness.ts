import { IDENTITY } from "../../geometry/affine.ts";
import type { Affine } from "../../geometry/affine.ts";
import type { Fault } from "../../problem.ts";
import type { Fields } from "./fields.ts";

/** Heights and directions out of the plane, of which only two can be cut from a sheet. */

/** Drawing units; less is dust of programs that draw in space. */
const FLAT = 1e-4;
const TILT = 1e-6;

/** Reports every z of the group that is not 0. */
export function needFlat(fields: Fields, code: number): void {
  const z = fields.all(code).find((each) => Math.abs(each) > FLAT);
  if (z !== undefined) fields.wrong(code, notFlat(z));
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

function notFlat(z: number): Fault {
  return {
    code: "dxf-not-flat",
    found: `a height (z) of ${z}`,
    expected: "flat lines at z 0",
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
