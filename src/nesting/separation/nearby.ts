import type { OverlapField } from "./overlap-field.ts";
import type { World } from "./world.ts";

/**
 * What a copy would suffer in one stance near a place: the few copies that it can meet there are
 * gathered once, for costs are asked very often. They are those of {@link World.cost}, faster.
 */
export class Nearby {
  readonly #world: World;
  readonly #fields: OverlapField[] = [];
  /** By copy gathered {@link WIDE} numbers. */
  readonly #flat: Float64Array;
  #gathered = 0;
  /** Where it may be asked for. */
  #left = 0;
  #right = -1;
  #low = 0;
  #high = -1;

  constructor(world: World) {
    this.#world = world;
    this.#flat = new Float64Array(WIDE * world.count);
  }

  /** Makes it forget what it has gathered. */
  clear(): void {
    this.#right = this.#left - 1;
  }

  covers(x: number, y: number): boolean {
    return x >= this.#left && x <= this.#right && y >= this.#low && y <= this.#high;
  }

  /** Gathers for places that lie no further than so along either axis from one. */
  gather(copy: number, stance: number, x: number, y: number, reachMm: number): void {
    const world = this.#world;
    const { model, boxes, weights, at, forms, count } = world;
    this.#left = x - reachMm;
    this.#right = x + reachMm;
    this.#low = y - reachMm;
    this.#high = y + reachMm;
    const reach = model.reach[stance]!;
    const [left, right] = [model.minX[stance]! - reach, model.maxX[stance]! + reach];
    const [low, high] = [model.minY[stance]! - reach, model.maxY[stance]! + reach];
    const own = model.heft[forms[copy]!]!;
    const flat = this.#flat;
    let gathered = 0;
    for (let other = 0, box = 0; other < count; other++, box += 4) {
      if (boxes[box + 2]! >= this.#high + high || boxes[box + 3]! <= this.#low + low) continue;
      if (boxes[box]! >= this.#right + right || boxes[box + 1]! <= this.#left + left) continue;
      if (other === copy) continue;
      const its = at.stance[other]!;
      const base = Math.min(its, stance);
      const sign = its <= stance ? 1 : -1;
      this.#fields[gathered] = model.field(base, Math.max(its, stance));
      const [cosine, sine, side] = [model.cosine[base]!, model.sine[base]!, model.side[base]!];
      const to = WIDE * gathered;
      // Where the stance meets the other's box.
      flat[to] = boxes[box]! - right;
      flat[to + 1] = boxes[box + 1]! - left;
      flat[to + 2] = boxes[box + 2]! - high;
      flat[to + 3] = boxes[box + 3]! - low;
      flat[to + 4] = at.x[other]!;
      flat[to + 5] = at.y[other]!;
      flat[to + 6] = sign * side * cosine;
      flat[to + 7] = sign * side * sine;
      flat[to + 8] = sign * cosine;
      flat[to + 9] = sign * sine;
      flat[to + 10] = weights[copy * count + other]! * own * model.heft[forms[other]!]!;
      gathered++;
    }
    this.#gathered = gathered;
  }

  /** Of a place that it covers: some number above `most` as soon as it is more than that. */
  cost(x: number, y: number, most: number): number {
    const flat = this.#flat;
    const fields = this.#fields;
    const world = this.#world;
    const { slackMm } = world;
    const end = this.#gathered;
    let sum = 0;
    for (let index = 0, to = 0; index < end; index++, to += WIDE) {
      if (x <= flat[to]! || x >= flat[to + 1]! || y <= flat[to + 2]! || y >= flat[to + 3]!)
        continue;
      const dx = x - flat[to + 4]!;
      const dy = y - flat[to + 5]!;
      world.spent++;
      const depth = fields[index]!.depth(
        flat[to + 6]! * dx + flat[to + 7]! * dy,
        flat[to + 8]! * dy - flat[to + 9]! * dx,
      );
      if (depth <= slackMm) continue;
      sum += flat[to + 10]! * depth;
      if (sum > most) return sum;
    }
    return sum;
  }
}

const WIDE = 11;
