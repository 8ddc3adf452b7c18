import { svgPathProperties } from "svg-path-properties";
import { block, dxf, entity, groups, line } from "../../bench-out/tests/drawing/dxf/dxf-text.js";

/** Entities that are lines in the plane: name, file, and the length in mm from elsewhere. */

const HALF = 10 * Math.PI;
const BELOW = [210, 0, 220, 0, 230, -1];

/** Perimeter of an ellipse by its series (Abramowitz and Stegun 17.3.12, from memory). */
function ellipseLength(a, b) {
  const squared = 1 - (b / a) ** 2;
  let [term, sum] = [1, 1];
  for (let n = 1; n < 400; n++) {
    term *= ((2 * n - 1) / (2 * n)) ** 2 * squared;
    sum -= term / (2 * n - 1);
  }
  return 2 * Math.PI * a * sum;
}

function pathLength(d) {
  return new svgPathProperties(d).getTotalLength();
}

function vertex(x, y, bulge = 0) {
  return groups(0, "VERTEX", 8, "0", 10, x, 20, y, 30, 0, 42, bulge);
}

function light(flags, ...vertices) {
  return entity(
    "LWPOLYLINE",
    [90, vertices.length, 70, flags],
    vertices.flatMap(([x, y, bulge = 0]) => [10, x, 20, y, 42, bulge]),
  );
}

function spline(degree, flags, knots, points) {
  return dxf(
    entity(
      "SPLINE",
      [70, flags, 71, degree],
      knots.flatMap((knot) => [40, knot]),
      points.flatMap(([x, y, weight]) => [10, x, 20, y, 30, 0, ...(weight ? [41, weight] : [])]),
    ),
  );
}

const CUBIC = [0, 0, 0, 0, 1, 1, 1, 1];
const ROOT = Math.SQRT1_2;

/** A circle of radius 10 in quarters, each point with its weight (Piegl and Tiller, ch. 7). */
const CIRCLE = [
  [10, 0, 1],
  [10, 10, ROOT],
  [0, 10, 1],
  [-10, 10, ROOT],
  [-10, 0, 1],
  [-10, -10, ROOT],
  [0, -10, 1],
  [10, -10, ROOT],
  [10, 0, 1],
];

/** Uniform cubic through all, the first three points once more at the end: closed without a seam. */
const LOOP = [
  [0, 0],
  [30, 0],
  [30, 30],
  [0, 30],
];

/** Its spans as Bezier curves, by the matrix of the uniform cubic B-spline. */
const LOOP_PATH = LOOP.map((_, at) => {
  const [a, b, c, d] = [0, 1, 2, 3].map((next) => LOOP[(at + next) % LOOP.length]);
  const mix = (...shares) =>
    [0, 1]
      .map((axis) => [a, b, c, d].reduce((sum, one, i) => sum + (one[axis] * shares[i]) / 6, 0))
      .join(" ");
  return `M${mix(1, 4, 1, 0)}C${mix(0, 4, 2, 0)} ${mix(0, 2, 4, 0)} ${mix(0, 1, 4, 1)}`;
});

const circle = entity("CIRCLE", 10, 0, 20, 0, 40, 10);
const blocks = block("B", circle) + block("C", entity("INSERT", 2, "B", 10, 5, 20, 0, 42, 0.5));

function insert(name, ...more) {
  return dxf(entity("INSERT", 2, name, 10, 3, 20, 4, ...more), { blocks });
}

export const drawn = [
  ["LINE", dxf(line(0, 0, 30, 40)), 50],
  ["LWPOLYLINE, open", dxf(light(0, [0, 0], [10, 0], [10, 10])), 20],
  ["LWPOLYLINE, closed, bulges", dxf(light(1, [0, 0, 1], [20, 0, 1])), 2 * HALF],
  ["LWPOLYLINE, closed, bulge < 0", dxf(light(1, [0, 0, -1], [20, 0])), HALF + 20],
  [
    "POLYLINE and VERTEX",
    dxf(entity("POLYLINE", 66, 1, 70, 1) + vertex(0, 0, 1) + vertex(20, 0) + groups(0, "SEQEND")),
    HALF + 20,
  ],
  ["ARC", dxf(entity("ARC", 10, 5, 20, 5, 40, 10, 50, 300, 51, 30)), HALF / 2],
  ["ARC, extrusion -1", dxf(entity("ARC", 10, 5, 20, 5, 40, 10, 50, 0, 51, 90, BELOW)), HALF / 2],
  ["CIRCLE", dxf(circle), 2 * HALF],
  ["ELLIPSE", dxf(entity("ELLIPSE", 10, 0, 20, 0, 11, 18, 21, 24, 40, 0.5)), ellipseLength(30, 15)],
  [
    "ELLIPSE, half of it",
    dxf(entity("ELLIPSE", 10, 0, 20, 0, 11, 30, 21, 0, 40, 0.5, 41, 0, 42, Math.PI)),
    ellipseLength(30, 15) / 2,
  ],
  [
    "ELLIPSE, extrusion -1",
    dxf(entity("ELLIPSE", 10, 0, 20, 0, 11, 30, 21, 0, 40, 0.5, BELOW)),
    ellipseLength(30, 15),
  ],
  [
    "SPLINE of degree 3",
    spline(3, 8, CUBIC, [
      [0, 0],
      [10, 30],
      [30, 30],
      [40, 0],
    ]),
    pathLength("M0 0C10 30 30 30 40 0"),
  ],
  ["SPLINE with weights", spline(2, 12, [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4], CIRCLE), 2 * HALF],
  [
    "SPLINE, closed, periodic",
    spline(3, 11, [-3, -2, -1, 0, 1, 2, 3, 4, 5, 6, 7], [...LOOP, ...LOOP.slice(0, 3)]),
    LOOP_PATH.reduce((sum, d) => sum + pathLength(d), 0),
  ],
  ["INSERT", insert("B"), 2 * HALF],
  ["INSERT, scaled by 2", insert("B", 41, 2, 42, 2), 4 * HALF],
  ["INSERT, scaled by 3 and 1.5", insert("B", 41, 3, 42, 1.5), ellipseLength(30, 15)],
  ["INSERT, mirrored and turned", insert("B", 41, -1, 50, 30), 2 * HALF],
  ["INSERT, array of 3 x 2", insert("B", 70, 3, 71, 2, 44, 30, 45, 30), 12 * HALF],
  ["INSERT in INSERT", insert("C", 41, 3, 42, 3), ellipseLength(30, 15)],
  ["INSERT, extrusion -1", insert("B", BELOW), 2 * HALF],
];
