import { applyToPath } from "../../geometry/affine.ts";
import type { Affine } from "../../geometry/affine.ts";
import { unitVector } from "../../geometry/arc.ts";
import { circlePath, polylinePath } from "../../geometry/path.ts";
import type { Path, Point } from "../../geometry/types.ts";
import type { Fault } from "../../problem.ts";
import type { Fields } from "./fields.ts";
import { needLevel, readExtrusion, reportSlope } from "./flatness.ts";

/** LINE, ARC, CIRCLE and ELLIPSE, in drawing units; angles run counter-clockwise. */

/** Its ends are the drawing's own: the extrusion direction says nothing of a LINE. */
export function readLine(fields: Fields): Path {
  needLevel(fields, 30, 31);
  return polylinePath([fields.point(10), fields.point(11)], false);
}

export function readCircle(fields: Fields): Path {
  const [centre, radius] = [fields.point(10), readRadius(fields)];
  return applyToPath(readExtrusion(fields), circlePath(centre, radius));
}

/** Angles in degrees; the same angle twice is a whole circle. */
export function readArc(fields: Fields): Path {
  const [centre, radius] = [fields.point(10), readRadius(fields)];
  const [from, to] = [fields.number(50), fields.number(51)];
  const matrix = readExtrusion(fields);
  const sweepDeg = turnFrom(from, to, 360);
  if (sweepDeg === 360) return applyToPath(matrix, circlePath(centre, radius));
  const at = (degrees: number): Point => {
    const { x, y } = unitVector(degrees);
    return { x: centre.x + radius * x, y: centre.y + radius * y };
  };
  const sweepRad = (sweepDeg * Math.PI) / 180;
  const segments = [{ kind: "arc", to: at(to), centre, sweepRad }] as const;
  return applyToPath(matrix, { start: at(from), segments, closed: false });
}

/**
 * The image of the unit circle: group 11 is the end of the longer axis from the centre, group 40
 * the ratio of the shorter, which lies square to it, counter-clockwise as seen from the extrusion.
 * Centre and axis are the drawing's own. Its parameters 41 and 42 are angles on the unit circle.
 */
export function readEllipse(fields: Fields): Path {
  const [centre, axis] = [fields.point(10), fields.point(11)];
  const ratio = fields.number(40);
  const [from, to] = [fields.number(41, 0), fields.number(42, FULL)];
  reportSlope(fields, [0, ...fields.all(31)]);
  const side = readExtrusion(fields).a;
  if (!(ratio > 0)) fields.wrong(40, notPositive(`a ratio of ${ratio}`));
  if (axis.x === 0 && axis.y === 0) fields.wrong(11, notPositive("an axis without length"));
  const matrix: Affine = {
    a: axis.x,
    b: axis.y,
    c: -axis.y * ratio * side,
    d: axis.x * ratio * side,
    e: centre.x,
    f: centre.y,
  };
  return applyToPath(matrix, unitArc(from, turnFrom(from, to, FULL)));
}

const FULL = 2 * Math.PI;
/** Parameters of whole ellipses are written with as few digits. */
const NEARLY_FULL_RAD = 1e-5;

function unitArc(from: number, sweepRad: number): Path {
  const origin = { x: 0, y: 0 };
  if (FULL - sweepRad < NEARLY_FULL_RAD) return circlePath(origin, 1);
  const to = onUnitCircle(from + sweepRad);
  return {
    start: onUnitCircle(from),
    segments: [{ kind: "arc", to, centre: origin, sweepRad }],
    closed: false,
  };
}

function onUnitCircle(angle: number): Point {
  return { x: Math.cos(angle), y: Math.sin(angle) };
}

/** Above 0, at most a full turn. */
function turnFrom(from: number, to: number, full: number): number {
  const turn = (to - from) % full;
  return turn > 0 ? turn : turn + full;
}

function readRadius(fields: Fields): number {
  const radius = fields.number(40);
  if (!(radius > 0)) fields.wrong(40, notPositive(`a radius of ${radius}`));
  return radius;
}

function notPositive(found: string): Fault {
  return {
    code: "dxf-size",
    found,
    expected: "a size above 0",
    mend: "Draw the curve again, or delete it",
  };
}
