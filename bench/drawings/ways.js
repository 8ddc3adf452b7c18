import { block, dxf, entity, groups, line } from "../../bench-out/tests/drawing/dxf/dxf-text.js";
import { pathData } from "./outlines.js";

/** How one and the same drawing may stand in a file: `scale` is mm for one of its units. */

function page(content, size = 'width="200mm" height="100mm"') {
  return `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" ${size} viewBox="0 0 200 100">${content}</svg>`;
}

function svgWay(name, write, scale) {
  const text = (contours) => write(`<path d="${contours.map(pathData).join(" ")}"/>`);
  return { file: "svg", name, text, scale };
}

export const SVG_WAYS = [
  svgWay("path", page, 1),
  svgWay("page in inches", (lines) => page(lines, 'width="10in" height="5in"'), 254 / 200),
  svgWay(
    "symbol and use",
    (lines) =>
      page(
        `<symbol id="s" viewBox="0 0 200 100">${lines}</symbol><use href="#s" width="100" height="50"/>`,
      ),
    0.5,
  ),
  svgWay(
    "defs and use, scaled",
    (lines) =>
      page(
        `<defs><g id="g">${lines}</g></defs><use xlink:href="#g" x="400" transform="scale(.5)"/>`,
      ),
    0.5,
  ),
  svgWay(
    "frame in percent",
    (lines) => page(`<svg x="10%" width="50%" height="100%" viewBox="0 0 200 100">${lines}</svg>`),
    0.5,
  ),
  svgWay(
    "matrix, style sheet",
    (lines) =>
      page(
        `<style>.away{display:none} path{fill:none;stroke:#123}</style><circle r="9" class="away"/><g transform="matrix(0 .5 -.5 0 100 0)">${lines}</g>`,
      ),
    0.5,
  ),
  svgWay(
    "mirrored and turned",
    (lines) => page(`<g transform="translate(50 50) rotate(30) scale(-.5 .5)">${lines}</g>`),
    0.5,
  ),
];

const INCHES = groups(9, "$INSUNITS", 70, 1);

/** @param kinds which outlines can be said in this way. */
function dxfWay(name, kinds, write, { scale = 1, wrap = (text) => dxf(text) } = {}) {
  return { file: "dxf", name, kinds, scale, text: (contours) => wrap(write(contours)) };
}

function copied(insert) {
  return (text) => dxf(insert, { blocks: block("B", text) });
}

const INNER = entity("INSERT", 2, "B", 10, 5, 20, 5, 41, -2, 42, 2, 50, 33);
const OUTER = entity("INSERT", 2, "C", 10, 1, 20, 2, 41, 0.25, 42, 0.25, 50, -70);

export const DXF_WAYS = [
  dxfWay("LWPOLYLINE", ["lines", "arcs"], light),
  dxfWay("LWPOLYLINE, inches", ["arcs"], light, {
    scale: 25.4,
    wrap: (text) => dxf(text, { header: INCHES }),
  }),
  dxfWay("LWPOLYLINE, extrusion -1", ["arcs"], (contours) =>
    light(contours, 210, 0, 220, 0, 230, -1),
  ),
  dxfWay("POLYLINE and VERTEX", ["lines", "arcs"], heavy),
  dxfWay("loose LINE, ARC", ["lines", "arcs"], loose),
  dxfWay("loose ELLIPSE", ["ellipses"], loose),
  dxfWay("SPLINE", ["quadratics", "cubics"], splines),
  dxfWay("SPLINE with weights", ["arcs"], splines),
  dxfWay("INSERT, mirrored and turned", ["arcs", "ellipses"], loose, {
    scale: 2,
    wrap: copied(INNER),
  }),
  dxfWay("INSERT in INSERT", ["cubics"], splines, {
    scale: 0.5,
    wrap: (text) => dxf(OUTER, { blocks: block("B", text) + block("C", INNER) }),
  }),
];

function light(contours, ...more) {
  return contours
    .map(({ sides }) =>
      entity(
        "LWPOLYLINE",
        [90, sides.length, 70, 1, ...more],
        sides.flatMap(({ from, bulge = 0 }) => [10, from.x, 20, from.y, 42, bulge]),
      ),
    )
    .join("");
}

function vertex({ from, bulge = 0 }) {
  return groups(0, "VERTEX", 8, "0", 10, from.x, 20, from.y, 30, 0, 42, bulge);
}

function heavy(contours) {
  return contours
    .map(
      ({ sides }) =>
        entity("POLYLINE", 66, 1, 70, 1) + sides.map(vertex).join("") + groups(0, "SEQEND"),
    )
    .join("");
}

/** Every second one first, so that neighbours in the file do not meet, and every third backwards. */
function loose(contours) {
  const sides = contours.flatMap((contour) => contour.sides);
  const order = [
    ...sides.filter((_, at) => at % 2 === 1),
    ...sides.filter((_, at) => at % 2 === 0),
  ];
  return order.map((side, at) => looseSide(side, at % 3 === 0)).join("");
}

function looseSide(side, isBackwards) {
  const { from, to, bulge, ratio, centre, radius, major } = side;
  if (bulge !== undefined) {
    const [first, last] = bulge > 0 ? [from, to] : [to, from];
    const turn = ({ x, y }) => (180 / Math.PI) * Math.atan2(y - centre.y, x - centre.x);
    return entity("ARC", 10, centre.x, 20, centre.y, 40, radius, 50, turn(first), 51, turn(last));
  }
  if (ratio !== undefined) {
    const axis = [11, major.x, 21, major.y, 31, 0];
    return entity("ELLIPSE", 10, 100, 20, 50, axis, 40, ratio, 41, 0, 42, Math.PI);
  }
  const [a, b] = isBackwards ? [to, from] : [from, to];
  return line(a.x, a.y, b.x, b.y);
}

/** One spline for each contour, a span for each side. */
function splines(contours) {
  return contours
    .map(({ start, sides }) => {
      const degree = sides[0].controls.length + 1;
      const inner = sides.flatMap((_, at) => (at === 0 ? [] : times(degree, at)));
      const end = (knot) => times(degree + 1, knot);
      const knots = [...end(0), ...inner, ...end(sides.length)];
      const points = [start, ...sides.flatMap(({ controls, to }) => [...controls, to])];
      const weights = [1, ...sides.flatMap(({ sweep }) => [Math.cos(sweep / 2), 1])];
      const isRational = sides[0].sweep !== undefined;
      return entity(
        "SPLINE",
        [70, isRational ? 12 : 8, 71, degree, 72, knots.length, 73, points.length],
        knots.flatMap((knot) => [40, knot]),
        isRational ? weights.flatMap((weight) => [41, weight]) : [],
        points.flatMap(({ x, y }) => [10, x, 20, y, 30, 0]),
      );
    })
    .join("");
}

function times(count, value) {
  return Array.from({ length: count }, () => value);
}
