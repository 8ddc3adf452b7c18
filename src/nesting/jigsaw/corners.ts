import { commonDivisor } from "../common-divisor.ts";
import type { Front } from "./front.ts";
import type { Tile } from "./tiles.ts";

/** A corner less than a half turn wide: of what is free, or of a tile. */
export interface Corner {
  readonly x: number;
  readonly y: number;
  /** The line that leaves it, the inside on its left. */
  readonly outX: number;
  readonly outY: number;
  /** Back along the line that comes to it. */
  readonly backX: number;
  readonly backY: number;
}

/** All of them. Where the border meets itself in a point there are several. */
export function cornersOf(front: Front): readonly Corner[] {
  const corners: Corner[] = [];
  for (let out = 0; out < front.length; out += 4) {
    const [x, y] = [front[out]!, front[out + 1]!];
    const [outX, outY] = [front[out + 2]! - x, front[out + 3]! - y];
    let [backX, backY, most] = [0, 0, -Infinity];
    for (let into = 0; into < front.length; into += 4) {
      if (front[into + 2] !== x || front[into + 3] !== y) continue;
      const [dx, dy] = [front[into]! - x, front[into + 1]! - y];
      const near = nearness(outX, outY, dx, dy);
      if (near > most) [backX, backY, most] = [dx, dy, near];
    }
    if (outX * backY - outY * backX > 0) corners.push({ x, y, outX, outY, backX, backY });
  }
  return corners;
}

/** The larger, the sooner one comes from the first direction to the second by turning left. */
function nearness(ax: number, ay: number, bx: number, by: number): number {
  const angle = Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
  return -(angle <= 0 ? angle + 2 * Math.PI : angle);
}

/** A corner of a tile, the tile on its left. */
export interface TileCorner extends Corner {
  /** Number of the tile. */
  readonly tile: number;
}

/** The corners of tiles less than a half turn wide, by the directions of their edges. */
export class TileCorners {
  readonly #byOut = new Map<string, TileCorner[]>();
  readonly #byBack = new Map<string, TileCorner[]>();

  constructor(tiles: readonly Tile[]) {
    for (const [tile, { xy }] of tiles.entries()) {
      for (let at = 0; at < xy.length; at += 2) {
        const next = (at + 2) % xy.length;
        const last = (at + xy.length - 2) % xy.length;
        const [x, y] = [xy[at]!, xy[at + 1]!];
        const [outX, outY] = [xy[next]! - x, xy[next + 1]! - y];
        const [backX, backY] = [xy[last]! - x, xy[last + 1]! - y];
        if (outX * backY - outY * backX <= 0) continue;
        const corner = { tile, x, y, outX, outY, backX, backY };
        filed(this.#byOut, direction(outX, outY)).push(corner);
        filed(this.#byBack, direction(backX, backY)).push(corner);
      }
    }
  }

  /**
   * Those that may lie in a corner, an edge of them along the line that leaves it, or that comes to it
   * where these are fewer: some tile must.
   *
   * @param isLeft whether there are copies left of a tile.
   */
  at(corner: Corner, isLeft: (tile: number) => boolean): readonly TileCorner[] {
    const { outX, outY, backX, backY } = corner;
    const leaving = (this.#byOut.get(direction(outX, outY)) ?? []).filter(
      (own) => isLeft(own.tile) && own.backX * backY - own.backY * backX >= 0,
    );
    const coming = (this.#byBack.get(direction(backX, backY)) ?? []).filter(
      (own) => isLeft(own.tile) && outX * own.outY - outY * own.outX >= 0,
    );
    return leaving.length <= coming.length ? leaving : coming;
  }
}

function filed<T>(all: Map<string, T[]>, key: string): T[] {
  const known = all.get(key) ?? [];
  all.set(key, known);
  return known;
}

function direction(x: number, y: number): string {
  const divisor = commonDivisor(Math.abs(x), Math.abs(y));
  return `${x / divisor},${y / divisor}`;
}
