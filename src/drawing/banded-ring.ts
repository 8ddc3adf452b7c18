import { ringBounds } from "../geometry/ring.ts";
import type { Box, Point, Ring } from "../geometry/types.ts";

/** Rings of fewer sides are searched as quickly whole. */
const FEW_SIDES = 64;
const SIDES_PER_BAND = 8;

/** A polygon that is asked about many points: its sides are kept by bands of height. */
export class BandedRing {
  readonly ring: Ring;
  readonly box: Box;
  /** Made when the first point is asked about: of most holes none is. */
  #bands: readonly (readonly number[])[] | null = null;
  #bandMm = 0;

  constructor(ring: Ring) {
    this.ring = ring;
    this.box = ringBounds(ring);
  }

  /** Even-odd rule. A point on the line itself may fall either way. */
  contains({ x, y }: Point): boolean {
    const { minX, minY, maxX, maxY } = this.box;
    if (!(x >= minX && x <= maxX && y >= minY && y <= maxY)) return false;
    let inside = false;
    this.#bands ??= this.#banded();
    for (const index of this.#bands[this.#band(y)] ?? []) {
      const [a, b] = this.#side(index);
      if (a.y > y === b.y > y) continue;
      if (x < a.x + ((y - a.y) / (b.y - a.y)) * (b.x - a.x)) inside = !inside;
    }
    return inside;
  }

  #banded(): number[][] {
    const height = this.box.maxY - this.box.minY;
    const count = this.ring.length;
    const rise = this.ring.reduce((sum, _, index) => {
      const [a, b] = this.#side(index);
      return sum + Math.abs(b.y - a.y);
    }, 0);
    // Bands lower than the mean side would hold the same side many times.
    const bandMm = Math.max((height * SIDES_PER_BAND) / count, rise / count);
    this.#bandMm = count < FEW_SIDES ? height : Math.min(height, bandMm);
    const bands: number[][] = [];
    for (let index = 0; index < count; index++) {
      const [a, b] = this.#side(index);
      const last = this.#band(Math.max(a.y, b.y));
      for (let band = this.#band(Math.min(a.y, b.y)); band <= last; band++)
        (bands[band] ??= []).push(index);
    }
    return bands;
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
