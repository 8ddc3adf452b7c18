import { distanceToSide } from "../geometry/point.ts";
import { boundsOf } from "../geometry/ring.ts";
import type { Box, Point, Ring } from "../geometry/types.ts";
import { Bands } from "./bands.ts";
import { turning } from "./convex.ts";
import { Grid } from "./grid.ts";

/** The edges of rings, found by where they lie. */
export class Edges {
  readonly box: Box;
  readonly points: readonly Point[];
  readonly #to: readonly Point[];
  #bands: Bands | null = null;
  #grid: Grid | null = null;

  constructor(rings: readonly Ring[]) {
    this.points = rings.flat();
    this.#to = rings.flatMap((ring) => ring.map((_, index) => ring[(index + 1) % ring.length]!));
    this.box = boundsOf(this.points);
  }

  /** Even-odd rule; a point on an edge may fall either way. */
  isAround({ x, y }: Point): boolean {
    const bands = (this.#bands ??= this.#inBands());
    let inside = false;
    for (const edge of bands.at(y)) {
      const [a, b] = [this.points[edge]!, this.#to[edge]!];
      if (a.y > y !== b.y > y && x < a.x + ((y - a.y) / (b.y - a.y)) * (b.x - a.x))
        inside = !inside;
    }
    return inside;
  }

  /** Whether an edge of the ring goes through one of these; those that only touch do not. */
  isCrossedBy(ring: Ring): boolean {
    const grid = (this.#grid ??= this.#inGrid());
    return ring.some((c, index) => {
      const d = ring[(index + 1) % ring.length]!;
      return grid.some([c, d], (edge) => {
        const [a, b] = [this.points[edge]!, this.#to[edge]!];
        return parts(a, b, c, d) && parts(c, d, a, b);
      });
    });
  }

  /** Whether a point lies on an edge. */
  touches(point: Point, toleranceMm: number): boolean {
    const { x, y } = point;
    const grid = (this.#grid ??= this.#inGrid());
    const around = [-toleranceMm, toleranceMm].flatMap((far) => [
      { x: x + far, y: y + far },
      { x: x - far, y: y + far },
    ]);
    return grid.some(around, (edge) => {
      return distanceToSide(point, this.points[edge]!, this.#to[edge]!) <= toleranceMm;
    });
  }

  #inBands(): Bands {
    const bands = new Bands(this.box.minY, this.box.maxY, this.points.length);
    for (const [edge, { y }] of this.points.entries()) bands.add(edge, y, this.#to[edge]!.y);
    return bands;
  }

  #inGrid(): Grid {
    const grid = new Grid(this.box, this.points.length);
    for (const [edge, from] of this.points.entries()) grid.add(edge, from, this.#to[edge]!);
    return grid;
  }
}

/** Whether the line through a and b runs between c and d. */
function parts(a: Point, b: Point, c: Point, d: Point): boolean {
  return turning(a, b, c) * turning(a, b, d) < 0;
}
