/** Plane geometry in mm, x to the right, y up; angles in radians, counter-clockwise positive. */

export interface Point {
  readonly x: number;
  readonly y: number;
}

/** The straight, circular and cubic pieces that drawings are kept in; each starts where the last ended. */
export type Segment =
  | { readonly kind: "line"; readonly to: Point }
  | {
      readonly kind: "arc";
      readonly to: Point;
      readonly centre: Point;
      /** Signed sweep, counter-clockwise positive, at most a full turn either way. */
      readonly sweepRad: number;
    }
  | {
      readonly kind: "cubic";
      readonly control1: Point;
      readonly control2: Point;
      readonly to: Point;
    };

/** A connected line; a closed one ends exactly on its start. */
export interface Path {
  readonly start: Point;
  readonly segments: readonly Segment[];
  readonly closed: boolean;
}

/** A closed polygon; the last point is joined to the first, which is not repeated. */
export type Ring = readonly Point[];

/** Material: inside `outer`, outside every hole. */
export interface Region {
  /** Counter-clockwise. */
  readonly outer: Ring;
  /** Clockwise, inside `outer`, apart from each other. */
  readonly holes: readonly Ring[];
}

export interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** How a drawn thing lies on a sheet: mirrored first (x to -x), then turned about 0,0, then moved. */
export interface Pose {
  readonly mirrored: boolean;
  /** Counter-clockwise, degrees. */
  readonly turnDeg: number;
  readonly xMm: number;
  readonly yMm: number;
}
