import { distance } from "../../geometry/point.ts";
import type { Path, Segment } from "../../geometry/types.ts";
import type { Fault } from "../../problem.ts";
import type { Fields } from "./fields.ts";
import { needLevel } from "./flatness.ts";
import { nurbsSpans } from "./nurbs.ts";
import type { Nurbs, Span } from "./nurbs.ts";

/** Splines that no cubic can be depart from their cubics by at most this, mm. */
export const SPLINE_MM = 0.001;

/**
 * SPLINE in drawing units; its points are the drawing's own.
 * @param tolerance in drawing units, for splines that are not cubics.
 */
export function readSpline(fields: Fields, tolerance: number): Path[] {
  needLevel(fields, 30);
  const nurbs = readNurbs(fields);
  return nurbs === null || fields.faults.length > 0
    ? []
    : joinedSpans(nurbsSpans(nurbs, tolerance));
}

/** Higher ones are mistakes. */
const HIGHEST_DEGREE = 25;

function readNurbs(fields: Fields): Nurbs | null {
  const degree = fields.number(71);
  const [xs, ys] = [fields.all(10), fields.all(20)];
  const [knots, weights] = [fields.all(40), fields.all(41)];
  const refuse = (found: string, expected: string): null => {
    fields.wrong(71, badSpline(found, expected));
    return null;
  };
  if (xs.length === 0 && fields.all(11).length > 0) {
    fields.wrong(11, onlyFitPoints());
    return null;
  }
  if (!Number.isSafeInteger(degree) || degree < 1 || degree > HIGHEST_DEGREE)
    return refuse(`degree ${degree}`, `a degree of 1 to ${HIGHEST_DEGREE}`);
  if (xs.length !== ys.length || xs.length <= degree)
    return refuse(`${xs.length} control points`, `at least ${degree + 1}, each with x and y`);
  if (knots.length !== xs.length + degree + 1)
    return refuse(`${knots.length} knots`, `${xs.length + degree + 1} knots`);
  if (knots.some((knot, index) => knot < (knots[index - 1] ?? -Infinity)))
    return refuse("a knot smaller than the one before", "knots that never fall");
  if (weights.length > 0 && weights.length !== xs.length)
    return refuse(`${weights.length} weights`, `${xs.length} weights, or none`);
  if (weights.some((weight) => !(weight > 0)))
    return refuse("a weight of 0 or less", "weights above 0");
  const controls = xs.map((x, index) => {
    const w = weights[index] ?? 1;
    return { x: x * w, y: (ys[index] ?? 0) * w, w };
  });
  return { degree, knots, controls };
}

/** Drawing units; spans that end further from the next are lines of their own. */
const TOGETHER = 1e-6;

function joinedSpans(spans: readonly Span[]): Path[] {
  const paths: { start: Span["start"]; segments: Segment[]; closed: boolean }[] = [];
  for (const { start, segments } of spans) {
    const last = paths.at(-1);
    const end = last?.segments.at(-1)?.to;
    if (last !== undefined && end !== undefined && distance(end, start) < TOGETHER)
      last.segments.push(...segments);
    else paths.push({ start, segments: [...segments], closed: false });
  }
  return paths;
}

const AGAIN = "Draw the spline again, or turn it into a polyline";

function badSpline(found: string, expected: string): Fault {
  return { code: "dxf-spline", found, expected, mend: AGAIN };
}

function onlyFitPoints(): Fault {
  return {
    code: "dxf-spline",
    found: "a spline given only by the points that it passes through",
    expected: "a spline with control points and knots",
    mend: "Turn the spline into a polyline or into arcs, or draw it by control points",
  };
}
