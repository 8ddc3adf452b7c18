import { Layout, type Room } from "./layout.ts";
import type { Model } from "./model.ts";
import type { OverlapField } from "./overlap-field.ts";

/** How one copy lies to another, in the other's frame. */
interface Seen {
  readonly base: number;
  readonly field: OverlapField;
  readonly across: number;
  readonly along: number;
}

/** Where the 0,0 of a stance may lie in a room: empty, its left above its right, where it is too large. */
interface Range {
  readonly left: number;
  readonly right: number;
  readonly low: number;
  readonly high: number;
}

/** Copies that may overlap, in rooms, with a weight on every two of them. */
export class World {
  readonly model: Model;
  /** By copy the number of its form. */
  readonly forms: Int32Array;
  /** All copies stay inside of theirs. */
  rooms: readonly Room[];
  /** Overlaps that are no deeper count as none, mm. */
  slackMm = 0;
  /** Depths asked for: what the search's effort is counted in. */
  spent = 0;
  /** Where a copy may be pushed; set by {@link depthAndWayOut}. */
  wayX = 0;
  wayY = 0;
  readonly #at: Layout;
  /** By copy: minX, maxX, minY, maxY of what others must not come into. */
  readonly boxes: Float64Array;
  /** Of copies i and j at `i * count + j` and at `j * count + i`. */
  readonly weights: Float64Array;

  constructor(model: Model, forms: Int32Array, rooms: readonly Room[]) {
    this.model = model;
    this.forms = forms;
    this.rooms = rooms;
    this.#at = new Layout(forms.length);
    this.boxes = new Float64Array(4 * forms.length);
    this.weights = new Float64Array(forms.length ** 2).fill(1);
  }

  get count(): number {
    return this.forms.length;
  }

  /** As the copies lie; to be changed by {@link lay} and {@link layAll} alone. */
  get at(): Layout {
    return this.#at;
  }

  layAll(layout: Layout): void {
    this.#at.take(layout);
    for (let copy = 0; copy < this.count; copy++) this.#bound(copy);
  }

  lay(copy: number, stance: number, room: number, x: number, y: number): void {
    this.#at.stance[copy] = stance;
    this.#at.room[copy] = room;
    this.#at.x[copy] = x;
    this.#at.y[copy] = y;
    this.#bound(copy);
  }

  rangeOf(stance: number, room: number): Range {
    const { model } = this;
    const { minX, minY, maxX, maxY } = this.rooms[room]!;
    return {
      left: minX - model.minX[stance]!,
      right: maxX - model.maxX[stance]!,
      low: minY - model.minY[stance]!,
      high: maxY - model.maxY[stance]!,
    };
  }

  /** Moves a copy as far as its room allows. */
  push(copy: number, dx: number, dy: number): void {
    const { stance, room, x, y } = this.#at;
    const { left, right, low, high } = this.rangeOf(stance[copy]!, room[copy]!);
    x[copy] = Math.max(left, Math.min(right, x[copy]! + dx));
    y[copy] = Math.max(low, Math.min(high, y[copy]! + dy));
    this.#bound(copy);
  }

  #bound(copy: number): void {
    const { model } = this;
    const stance = this.#at.stance[copy]!;
    const [x, y, reach] = [this.#at.x[copy]!, this.#at.y[copy]!, model.reach[stance]!];
    const box = 4 * copy;
    this.boxes[box] = x + model.minX[stance]! - reach;
    this.boxes[box + 1] = x + model.maxX[stance]! + reach;
    this.boxes[box + 2] = y + model.minY[stance]! - reach;
    this.boxes[box + 3] = y + model.maxY[stance]! + reach;
  }

  /** Whether the boxes of two copies leave no overlap. */
  areApart(i: number, j: number): boolean {
    const boxes = this.boxes;
    const [own, other] = [4 * i, 4 * j];
    return (
      boxes[other + 2]! >= boxes[own + 3]! ||
      boxes[other + 3]! <= boxes[own + 2]! ||
      boxes[other]! >= boxes[own + 1]! ||
      boxes[other + 1]! <= boxes[own]!
    );
  }

  /**
   * What a copy would suffer if it lay so: its depths in all others by their weights and hefts. Some
   * number above `most` as soon as it is more than that.
   */
  cost(copy: number, stance: number, x: number, y: number, most: number): number {
    const { model, count, forms } = this;
    const { heft } = model;
    const weights = this.weights;
    const boxes = this.boxes;
    const reach = model.reach[stance]!;
    const left = x + model.minX[stance]! - reach;
    const right = x + model.maxX[stance]! + reach;
    const low = y + model.minY[stance]! - reach;
    const high = y + model.maxY[stance]! + reach;
    const own = heft[forms[copy]!]!;
    const row = copy * count;
    let sum = 0;
    for (let other = 0, box = 0; other < count; other++, box += 4) {
      if (boxes[box + 2]! >= high || boxes[box + 3]! <= low) continue;
      if (boxes[box]! >= right || boxes[box + 1]! <= left || other === copy) continue;
      const depth = this.#depth(stance, x, y, other);
      if (depth === 0) continue;
      sum += weights[row + other]! * depth * own * heft[forms[other]!]!;
      if (sum > most) return sum;
    }
    return sum;
  }

  /** Of two copies as they lie, by their hefts. */
  overlap(i: number, j: number): number {
    if (this.areApart(i, j)) return 0;
    const { stance, x, y } = this.#at;
    const { heft } = this.model;
    const depth = this.#depth(stance[i]!, x[i]!, y[i]!, j);
    return depth * heft[this.forms[i]!]! * heft[this.forms[j]!]!;
  }

  overlapsAny(copy: number): boolean {
    for (let other = 0; other < this.count; other++)
      if (other !== copy && this.overlap(copy, other) > 0) return true;
    return false;
  }

  /** Of all copies, without weights. */
  total(): number {
    let sum = 0;
    for (let i = 0; i < this.count; i++)
      for (let j = i + 1; j < this.count; j++) sum += this.overlap(i, j);
    return sum;
  }

  forgetWeights(): void {
    this.weights.fill(1);
  }

  /**
   * Makes overlaps heavier, the deepest most, and fades the weights of all others; returns the total
   * without weights. Rises and fading as published by Gardeyn, Vanden Berghe and Wauters 2025.
   */
  reweigh(): number {
    const { count } = this;
    const weights = this.weights;
    const found: number[] = [];
    let [most, total] = [0, 0];
    for (let i = 0; i < count; i++) {
      for (let j = i + 1; j < count; j++) {
        const overlap = this.overlap(i, j);
        if (overlap === 0) {
          const weight = weights[i * count + j]!;
          if (weight > 1) this.#weigh(i, j, Math.max(1, weight * FADING));
          continue;
        }
        found.push(i, j, overlap);
        total += overlap;
        if (overlap > most) most = overlap;
      }
    }
    for (let at = 0; at < found.length; at += 3) {
      const [i, j, overlap] = [found[at]!, found[at + 1]!, found[at + 2]!];
      const rise = LEAST_RISE + (MOST_RISE - LEAST_RISE) * (overlap / most);
      this.#weigh(i, j, weights[i * count + j]! * rise);
    }
    return total;
  }

  #weigh(i: number, j: number, weight: number): void {
    this.weights[i * this.count + j] = this.weights[j * this.count + i] = weight;
  }

  /** Of a stance at a place in copy `other`, mm. */
  #depth(stance: number, x: number, y: number, other: number): number {
    const { model } = this;
    const at = this.#at;
    const its = at.stance[other]!;
    this.spent++;
    let base = its;
    let dx = x - at.x[other]!;
    let dy = y - at.y[other]!;
    let field;
    if (its <= stance) field = model.field(its, stance);
    else {
      field = model.field(stance, its);
      base = stance;
      dx = -dx;
      dy = -dy;
    }
    const cosine = model.cosine[base]!;
    const sine = model.sine[base]!;
    const across = model.side[base]! * (cosine * dx + sine * dy);
    const depth = field.depth(across, cosine * dy - sine * dx);
    return depth <= this.slackMm ? 0 : depth;
  }

  /** Of copy `i` in copy `j` as they lie; leaves the shortest way out for `i` in `wayX`, `wayY`. */
  depthAndWayOut(i: number, j: number): number {
    const { model, at } = this;
    const { base, field, across, along } = this.#seen(i, j);
    this.spent++;
    const depth = field.depthAndWayOut(across, along);
    if (depth <= this.slackMm) return 0;
    const [cosine, sine, side] = [model.cosine[base]!, model.sine[base]!, model.side[base]!];
    const sign = at.stance[j]! > at.stance[i]! ? -1 : 1;
    this.wayX = sign * (cosine * side * field.wayX - sine * field.wayY);
    this.wayY = sign * (sine * side * field.wayX + cosine * field.wayY);
    return depth;
  }

  /** Whether one copy lies deeper than so in another, judged by the polygons alone. */
  isWithin(i: number, j: number, deeperMm: number): boolean {
    if (this.areApart(i, j)) return false;
    const { field, across, along } = this.#seen(i, j);
    return field.isWithin(across, along, deeperMm);
  }

  /** The one of lower stance is the base; the place of the other in its frame. */
  #seen(i: number, j: number): Seen {
    const { model } = this;
    const { stance, x, y } = this.#at;
    const [first, second] = stance[j]! > stance[i]! ? [i, j] : [j, i];
    const base = stance[first]!;
    const [dx, dy] = [x[second]! - x[first]!, y[second]! - y[first]!];
    const [cosine, sine] = [model.cosine[base]!, model.sine[base]!];
    return {
      base,
      field: model.field(base, stance[second]!),
      across: model.side[base]! * (cosine * dx + sine * dy),
      along: cosine * dy - sine * dx,
    };
  }
}

const FADING = 0.95;
const LEAST_RISE = 1.2;
const MOST_RISE = 2;
