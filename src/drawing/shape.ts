import { unitVector } from "../geometry/arc.ts";
import { flattenPath } from "../geometry/flatten.ts";
import { circlePath, pathBounds, polylinePath } from "../geometry/path.ts";
import { boundsOf } from "../geometry/ring.ts";
import type { Path, Point, Segment } from "../geometry/types.ts";
import type { CornerRadii, Shape } from "../job/types.ts";
import { lengthText, sizeText } from "../units.ts";
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
      return about(rectangle(shape.widthMm, shape.heightMm, radiiOf(shape)));
    case "slot": {
      const { widthMm, heightMm } = shape;
      return about(rectangle(widthMm, heightMm, alike(Math.min(widthMm, heightMm) / 2)));
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
  const fault = sizeFault(shape);
  if (fault !== null) return fault;
  const radii = radiiOf(shape);
  const { topLeft, topRight, bottomRight, bottomLeft } = radii;
  const across = Math.max(topLeft + topRight, bottomLeft + bottomRight);
  const up = Math.max(topLeft + bottomLeft, topRight + bottomRight);
  const least = Math.min(topLeft, topRight, bottomRight, bottomLeft);
  if (least >= 0 && across <= widthMm + DUST_MM && up <= heightMm + DUST_MM) return null;
  if (typeof cornerRadiusMm !== "number")
    return {
      ...wrongSize(0, `corner radii from 0 up, within ${sizeText(widthMm, heightMm)}`),
      found: `corner radii that take ${sizeText(across, up)}`,
    };
  const most = Math.min(widthMm, heightMm) / 2;
  return wrongSize(cornerRadiusMm, `a corner radius from 0 to ${lengthText(most)}`);
}

/** What sums of inches leave. */
const DUST_MM = 1e-6;

function radiiOf({ cornerRadiusMm }: Shape & { kind: "rectangle" }): CornerRadii {
  return typeof cornerRadiusMm === "number" ? alike(cornerRadiusMm) : cornerRadiusMm;
}

function alike(mm: number): CornerRadii {
  return { topLeft: mm, topRight: mm, bottomRight: mm, bottomLeft: mm };
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

/** Counter-clockwise from the end of the lower left corner. */
function rectangle(width: number, height: number, radii: CornerRadii): Path {
  const { topLeft, topRight, bottomRight, bottomLeft } = radii;
  const start = { x: bottomLeft, y: 0 };
  const stops: Segment[] = [
    line(width - bottomRight, 0),
    corner({ x: width, y: bottomRight }, { x: width - bottomRight, y: bottomRight }),
    line(width, height - topRight),
    corner({ x: width - topRight, y: height }, { x: width - topRight, y: height - topRight }),
    line(topLeft, height),
    corner({ x: 0, y: height - topLeft }, { x: topLeft, y: height - topLeft }),
    line(0, bottomLeft),
    corner(start, { x: bottomLeft, y: bottomLeft }),
  ];
  return { start, segments: withoutEmpty(start, stops), closed: true };
}

function line(x: number, y: number): Segment {
  return { kind: "line", to: { x, y } };
}

function corner(to: Point, centre: Point): Segment {
  return { kind: "arc", to, centre, sweepRad: Math.PI / 2 };
}

/** Sides as long as their two radii leave no straight piece, radii of 0 no arc. */
function withoutEmpty(start: Point, segments: readonly Segment[]): Segment[] {
  let from = start;
  return segments.filter(({ to }) => {
    const isEmpty = to.x === from.x && to.y === from.y;
    from = to;
    return !isEmpty;
  });
}
