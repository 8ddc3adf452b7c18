import { ringBounds } from "../geometry/ring.ts";
import type { Box, Point, Ring } from "../geometry/types.ts";

/** Rings of fewer sides are searched as quickly whole. */
const FEW_SIDES = 64;
const SIDES_PER_BAND = 8;

/** A polygon that is asked about many points: its sides are kept by bands of height. */
export class BandedRing {
  readonly ring: Ring;
  readonly box: Box;
  readonly #bands: number[][] = [];
  readonly #bandMm: number;

  constructor(ring: Ring) {
    this.ring = ring;
    this.box = ringBounds(ring);
    const height = this.box.maxY - this.box.minY;
    const rise = ring.reduce((sum, _, index) => {
      const [a, b] = this.#side(index);
      return sum + Math.abs(b.y - a.y);
    }, 0);
    // Bands lower than the mean side would hold the same side many times.
    const few = ring.length < FEW_SIDES;
    const bandMm = Math.max((height * SIDES_PER_BAND) / ring.length, rise / ring.length);
    this.#bandMm = few ? height : Math.min(height, bandMm);
    for (let index = 0; index < ring.length; index++) {
      const [a, b] = this.#side(index);
      const last = this.#band(Math.max(a.y, b.y));
      for (let band = this.#band(Math.min(a.y, b.y)); band <= last; band++)
        (this.#bands[band] ??= []).push(index);
    }
  }

  /** Even-odd rule. A point on the line itself may fall either way. */
  contains({ x, y }: Point): boolean {
    const { minX, minY, maxX, maxY } = this.box;
    if (!(x >= minX && x <= maxX && y >= minY && y <= maxY)) return false;
    let inside = false;
    for (const index of this.#bands[this.#band(y)] ?? []) {
      const [a, b] = this.#side(index);
      if (a.y > y === b.y > y) continue;
      if (x < a.x + ((y - a.y) / (b.y - a.y)) * (b.x - a.x)) inside = !inside;
    }
    return inside;
  }

  #side(index: number): readonly [Point, Point] {
    const a = this.ring[index];
    const b = this.ring[(index + 1) % this.ring.length];
    if (a === undefined || b === undefined) throw new RangeError(`side ${index} of a ring`);
    return [a, b];
  }

  #band(y: number): number {
    return this.#bandMm > 0 ? Math.floor((y - this.box.minY) / this.#bandMm) : 0;
  }
}
