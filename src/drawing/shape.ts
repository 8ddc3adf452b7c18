import { circlePath, polylinePath } from "../geometry/path.ts";
import type { Path, Point, Segment } from "../geometry/types.ts";
import type { Shape } from "../job/types.ts";
import { lengthText } from "../units.ts";
import type { Fault } from "../problem.ts";

/** Closed paths of a shape with the lower left corner of its box at 0,0. */
export interface ShapeLines {
  /** Counter-clockwise. */
  readonly outline: Path;
  /** Counter-clockwise as well. */
  readonly holes: readonly Path[];
}

export function shapeLines(shape: Shape): ShapeLines {
  if (shape.kind === "rectangle")
    return { outline: rectangle(shape.widthMm, shape.heightMm, shape.cornerRadiusMm), holes: [] };
  const radius = shape.diameterMm / 2;
  const centre = { x: radius, y: radius };
  const outline = circlePath(centre, radius);
  return { outline, holes: shape.kind === "ring" ? [circlePath(centre, shape.boreMm / 2)] : [] };
}

/** What keeps the sizes from making a shape, or null. */
export function shapeFault(shape: Shape): Fault | null {
  if (shape.kind === "rectangle") {
    const { widthMm, heightMm, cornerRadiusMm } = shape;
    if (!(widthMm > 0 && heightMm > 0))
      return noArea(`${lengthText(widthMm)} x ${lengthText(heightMm)}`);
    const most = Math.min(widthMm, heightMm) / 2;
    return cornerRadiusMm >= 0 && cornerRadiusMm <= most
      ? null
      : wrongSize(cornerRadiusMm, `a corner radius from 0 to ${lengthText(most)}`);
  }
  if (!(shape.diameterMm > 0)) return noArea(`a diameter of ${lengthText(shape.diameterMm)}`);
  if (shape.kind === "disc" || (shape.boreMm > 0 && shape.boreMm < shape.diameterMm)) return null;
  return wrongSize(shape.boreMm, `a bore between 0 and ${lengthText(shape.diameterMm)}`);
}

function noArea(found: string): Fault {
  return {
    code: "part-degenerate",
    found,
    expected: "a shape that encloses an area",
    mend: "Give the shape sizes above 0",
  };
}

function wrongSize(mm: number, expected: string): Fault {
  return { code: "shape-size", found: lengthText(mm), expected, mend: "Correct one of the sizes" };
}

function rectangle(width: number, height: number, radius: number): Path {
  if (radius === 0) {
    const far = { x: width, y: height };
    return polylinePath([{ x: 0, y: 0 }, { x: width, y: 0 }, far, { x: 0, y: height }], true);
  }
  const start = { x: radius, y: 0 };
  const [right, top] = [width - radius, height - radius];
  const stops: Segment[] = [
    { kind: "line", to: { x: right, y: 0 } },
    corner({ x: width, y: radius }, { x: right, y: radius }),
    { kind: "line", to: { x: width, y: top } },
    corner({ x: right, y: height }, { x: right, y: top }),
    { kind: "line", to: { x: radius, y: height } },
    corner({ x: 0, y: top }, { x: radius, y: top }),
    { kind: "line", to: { x: 0, y: radius } },
    corner(start, { x: radius, y: radius }),
  ];
  return { start, segments: withoutEmptyLines(start, stops), closed: true };
}

function corner(to: Point, centre: Point): Segment {
  return { kind: "arc", to, centre, sweepRad: Math.PI / 2 };
}

/** A side as long as two radii leaves no straight piece between its corners. */
function withoutEmptyLines(start: Point, segments: readonly Segment[]): Segment[] {
  let from = start;
  return segments.filter((segment) => {
    const isEmpty = segment.kind === "line" && segment.to.x === from.x && segment.to.y === from.y;
    from = segment.to;
    return !isEmpty;
  });
}
