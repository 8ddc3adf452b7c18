import type { Ring } from "./types.ts";

/** The sides of many polygons as plain rows of numbers: drawings have millions. */
export class RingSides {
  readonly count: number;
  /** Where a side starts; it ends where the one after it starts. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** The side after each, round its ring. */
  readonly next: Int32Array;
  readonly ring: Int32Array;

  constructor(rings: readonly Ring[]) {
    this.count = rings.reduce((sum, { length }) => sum + length, 0);
    this.x = new Float64Array(this.count);
    this.y = new Float64Array(this.count);
    this.next = new Int32Array(this.count);
    this.ring = new Int32Array(this.count);
    let side = 0;
    for (const [index, ring] of rings.entries()) {
      const first = side;
      for (const { x, y } of ring) {
        this.x[side] = x;
        this.y[side] = y;
        this.next[side] = side + 1;
        this.ring[side] = index;
        side++;
      }
      if (side > first) this.next[side - 1] = first;
    }
  }
}
