import { Arc, Point, Polygon, Segment } from "@flatten-js/core";
import polygonClipping from "polygon-clipping";
import { svgPathProperties } from "svg-path-properties";
import { drawing, KINDS, pathData } from "./outlines.js";
import { readOne } from "./part.js";
import { apart, heading, mm, say, small, table } from "./print.js";
import { DXF_WAYS, SVG_WAYS } from "./ways.js";

/**
 * Lengths and areas against libraries that share nothing with the reader: svg-path-properties for
 * lengths, @flatten-js/core (true arcs where there are some) and polygon-clipping for areas.
 */

/** Points on each contour: a polygon through them leaves out about a millionth of its area. */
const POINTS = 3000;

/** What the libraries leave open is less: their points, and lengths of elliptical arcs by chords. */
const MOST = 1e-5;

export function againstLibraries() {
  const cases = [
    ...SVG_WAYS.flatMap((way) => KINDS.map((kind) => ({ way, kind }))),
    ...DXF_WAYS.flatMap((way) => way.kinds.flatMap((kind) => [1, 2].map(() => ({ way, kind })))),
  ].map((one, index) => ({ ...one, index }));
  heading(`${cases.length} generated drawings, each an outline with a hole, against libraries`);
  const results = cases.map(measured);
  table(
    ["drawing", "of", "mm", "library", "apart", "mm2", "flatten-js", "apart", "clipping", "apart"],
    results.map(({ row }) => row),
    2,
  );
  for (const kind of KINDS) {
    const own = results.filter((result) => result.kind === kind);
    const worst = (key) => small(Math.max(...own.map((result) => result[key])));
    say(
      `worst of ${own.length} of ${kind}: length ${worst("length")}, area ${worst("area")} and ${worst("clipped")}`,
    );
  }
  return results.filter(({ wrong }) => wrong).map(({ row }) => `${row[0]} of ${row[1]}`);
}

function measured({ way, kind, index }) {
  const contours = drawing(kind, index);
  const { cutLengthMm, areaMm2 } = readOne(`a.${way.file}`, way.text(contours));
  const [length, area, clipped] = [
    sum(contours.map((contour) => new svgPathProperties(pathData(contour)).getTotalLength())),
    polygonOf(contours[0]).area() - polygonOf(contours[1]).area(),
    netArea(polygonClipping.difference(...contours.map((contour) => [ringThrough(contour)]))),
  ].map((value, at) => value * (at === 0 ? way.scale : way.scale ** 2));
  const differences = {
    length: apart(cutLengthMm, length),
    area: apart(areaMm2, area),
    clipped: apart(areaMm2, clipped),
  };
  const row = [
    `${way.file}: ${way.name}`,
    kind,
    mm(cutLengthMm),
    mm(length),
    small(differences.length),
    mm(areaMm2),
    mm(area),
    small(differences.area),
    mm(clipped),
    small(differences.clipped),
  ];
  const wrong = Object.values(differences).some((difference) => !(difference < MOST));
  return { row, kind, wrong, ...differences };
}

/** Of segments and true arcs where there are such, else through points. */
function polygonOf(contour) {
  const edges = contour.sides.flatMap(({ from, to, d, bulge, centre, radius }) => {
    if (d.startsWith("L")) return [new Segment(new Point(from.x, from.y), new Point(to.x, to.y))];
    if (bulge === undefined) return [];
    const angle = ({ x, y }) => Math.atan2(y - centre.y, x - centre.x);
    return [new Arc(new Point(centre.x, centre.y), radius, angle(from), angle(to), bulge > 0)];
  });
  if (edges.length === contour.sides.length) return new Polygon(edges);
  return new Polygon(ringThrough(contour).map(([x, y]) => new Point(x, y)));
}

/** By a library that knows nothing of our flattening. */
function ringThrough(contour) {
  const steps = Math.ceil(POINTS / contour.sides.length);
  return new svgPathProperties(pathData(contour)).getParts().flatMap((piece) =>
    Array.from({ length: steps }, (_, step) => {
      const { x, y } = piece.getPointAtLength((piece.length * step) / steps);
      return [x, y];
    }),
  );
}

function netArea(polygons) {
  return sum(
    polygons.map((rings) => {
      const [outer = 0, ...holes] = rings.map((ring) => Math.abs(shoelace(ring)));
      return outer - sum(holes);
    }),
  );
}

function shoelace(ring) {
  return sum(
    ring.map(([x, y], at) => {
      const [nextX, nextY] = ring[(at + 1) % ring.length];
      return (x * nextY - nextX * y) / 2;
    }),
  );
}

function sum(values) {
  return values.reduce((all, value) => all + value, 0);
}
