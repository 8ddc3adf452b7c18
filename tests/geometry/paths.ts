import * as fc from "fast-check";
import { endpointArc } from "../../src/geometry/ellipse.ts";
import type { Path, Point, Segment } from "../../src/geometry/types.ts";

/** Paths made up for the properties: lines, circular arcs and cubics in any order. */

export const coordinate = fc.integer({ min: -4000, max: 4000 }).map((n) => n / 16);

export const point: fc.Arbitrary<Point> = fc.record({ x: coordinate, y: coordinate });

export const openPath: fc.Arbitrary<Path> = fc
  .record({ start: point, legs: fc.array(leg(), { minLength: 1, maxLength: 8 }) })
  .map(({ start, legs }) => {
    const segments: Segment[] = [];
    let from = start;
    for (const make of legs) {
      segments.push(...make(from));
      from = segments.at(-1)?.to ?? start;
    }
    return { start, segments, closed: false };
  });

export const closedPath: fc.Arbitrary<Path> = openPath.map((path) => ({
  ...path,
  segments: [...path.segments, { kind: "line", to: path.start }],
  closed: true,
}));

type Make = (from: Point) => readonly Segment[];

function leg(): fc.Arbitrary<Make> {
  const line = point.map((to): Make => () => [{ kind: "line", to }]);
  const cubic = fc.tuple(point, point, point).map(([control1, control2, to]): Make => () => [
    { kind: "cubic", control1, control2, to },
  ]);
  const arc = fc
    .record({
      to: point,
      radius: fc.integer({ min: 1, max: 600 }),
      large: fc.boolean(),
      sweep: fc.boolean(),
    })
    .map(
      ({ to, radius, large, sweep }): Make =>
        (from) =>
          endpointArc(from, {
            radiusX: radius,
            radiusY: radius,
            rotationDeg: 0,
            largeArc: large,
            sweep,
            to,
          }),
    );
  return fc.oneof(line, cubic, arc);
}
