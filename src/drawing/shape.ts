import { unitVector } from "../geometry/arc.ts";
import { flattenPath } from "../geometry/flatten.ts";
import { circlePath, pathBounds, polylinePath } from "../geometry/path.ts";
import { boundsOf } from "../geometry/ring.ts";
import type { Path, Point, Segment } from "../geometry/types.ts";
import type { Shape } from "../job/types.ts";
import { lengthText } from "../units.ts";
import type { Fault } from "../problem.ts";
import { FLATTENING_MM } from "./flattening.ts";
import { holeFault, holesOf, insetFault } from "./hole-patterns.ts";
import type { RoundHole } from "./types.ts";

/** Closed paths of a shape with the lower left corner of its box at 0,0. */
export interface ShapeLines {
  /** Counter-clockwise. */
  readonly outline: Path;
  /** Counter-clockwise as well. */
  readonly holes: readonly Path[];
}

export function shapeLines(shape: Shape): ShapeLines {
  const { outline, bores, middle } = plainShape(shape);
  const holes = holesOf(shape.holes ?? [], pathBounds(outline), middle);
  const paths = [...bores, ...holes].map(({ centre, diameterMm }) =>
    circlePath(centre, diameterMm / 2),
  );
  return { outline, holes: paths };
}

/** What keeps the sizes from making a shape, or null. */
export function shapeFault(shape: Shape): Fault | null {
  switch (shape.kind) {
    case "rectangle":
      return rectangleFault(shape);
    case "slot":
    case "half-lap":
      return sizeFault(shape);
    case "disc":
    case "polygon":
      return shape.diameterMm > 0 ? null : noArea(`a diameter of ${lengthText(shape.diameterMm)}`);
    case "ring": {
      const { diameterMm, boreMm } = shape;
      if (!(diameterMm > 0)) return noArea(`a diameter of ${lengthText(diameterMm)}`);
      if (boreMm > 0 && boreMm < diameterMm) return null;
      return wrongSize(boreMm, `a bore between 0 and ${lengthText(diameterMm)}`);
    }
  }
}

/** What keeps the holes of a sound shape from being cut, or null. */
export function shapeHoleFault(shape: Shape): Fault | null {
  if (shape.holes === undefined) return null;
  const { outline, bores, middle } = plainShape(shape);
  const box = pathBounds(outline);
  const holes = holesOf(shape.holes, box, middle);
  return (
    insetFault(shape.holes, box) ?? holeFault(flattenPath(outline, FLATTENING_MM), bores, holes)
  );
}

interface PlainShape {
  readonly outline: Path;
  readonly bores: readonly RoundHole[];
  /** What patterns of holes lie about. */
  readonly middle: Point;
}

function plainShape(shape: Shape): PlainShape {
  switch (shape.kind) {
    case "rectangle":
      return about(rectangle(shape.widthMm, shape.heightMm, shape.cornerRadiusMm));
    case "slot": {
      const { widthMm, heightMm } = shape;
      return about(rectangle(widthMm, heightMm, Math.min(widthMm, heightMm) / 2));
    }
    case "half-lap":
      return about(halfLap(shape));
    case "polygon":
      return polygon(shape.diameterMm / 2, shape.sides);
    case "disc":
    case "ring": {
      const radius = shape.diameterMm / 2;
      const middle = { x: radius, y: radius };
      const bores = shape.kind === "ring" ? [{ diameterMm: shape.boreMm, centre: middle }] : [];
      return { outline: circlePath(middle, radius), bores, middle };
    }
  }
}

function about(outline: Path): PlainShape {
  const { minX, minY, maxX, maxY } = pathBounds(outline);
  return { outline, bores: [], middle: { x: (minX + maxX) / 2, y: (minY + maxY) / 2 } };
}

function rectangleFault(shape: Shape & { kind: "rectangle" }): Fault | null {
  const { widthMm, heightMm, cornerRadiusMm } = shape;
  const most = Math.min(widthMm, heightMm) / 2;
  const fault = sizeFault(shape);
  if (fault !== null || (cornerRadiusMm >= 0 && cornerRadiusMm <= most)) return fault;
  return wrongSize(cornerRadiusMm, `a corner radius from 0 to ${lengthText(most)}`);
}

function sizeFault({ widthMm, heightMm }: { widthMm: number; heightMm: number }): Fault | null {
  if (widthMm > 0 && heightMm > 0) return null;
  return noArea(`${lengthText(widthMm)} x ${lengthText(heightMm)}`);
}

/** On one of its sides, the corners on a circle about the middle. */
function polygon(radius: number, sides: number): PlainShape {
  const corners = Array.from({ length: sides }, (_, index) => {
    const away = unitVector(-90 + (360 * (index + 0.5)) / sides);
    return { x: radius * away.x, y: radius * away.y };
  });
  const { minX, minY } = boundsOf(corners);
  const [first = { x: 0, y: 0 }, ...rest] = corners.map(({ x, y }) => ({
    x: x - minX,
    y: y - minY,
  }));
  return {
    outline: polylinePath([first, ...rest], true),
    bores: [],
    middle: { x: -minX, y: -minY },
  };
}

/** A slot at the bottom is one at the top of a plate turned by half a turn. */
function halfLap(shape: Shape & { kind: "half-lap" }): Path {
  const { widthMm, heightMm, slotWidthMm, slotDepthMm, slotAtMm, slotSide } = shape;
  const middle = slotSide === "top" ? slotAtMm : widthMm - slotAtMm;
  const [left, right] = [middle - slotWidthMm / 2, middle + slotWidthMm / 2];
  const floor = heightMm - slotDepthMm;
  const asCut = ({ x, y }: Point): Point =>
    slotSide === "top" ? { x, y } : { x: widthMm - x, y: heightMm - y };
  const corners: readonly Point[] = [
    { x: widthMm, y: 0 },
    { x: widthMm, y: heightMm },
    { x: right, y: heightMm },
    { x: right, y: floor },
    { x: left, y: floor },
    { x: left, y: heightMm },
    { x: 0, y: heightMm },
  ];
  return polylinePath([asCut({ x: 0, y: 0 }), ...corners.map(asCut)], true);
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
