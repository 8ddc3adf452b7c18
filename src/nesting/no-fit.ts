import type { Box } from "../geometry/types.ts";
import type { Variant } from "./bed.ts";
import { TOUCH_MM } from "./column.ts";
import { addConvexSum } from "./convex-sum.ts";
import { GrownParts } from "./grown.ts";
import { Meter } from "./meter.ts";
import type { Shape } from "./shapes.ts";
import { exchanged, slicesOf, type Slices } from "./slices.ts";
import type { Turned } from "./turns.ts";

/**
 * Where a moving piece may not lie for a placed one: the union of convex polygons, one for each pair
 * of convex parts, as differences of the two pieces' positions. Inside of one is too near; its rim
 * is a touch and allowed. Kept apart, not merged: a cut along a line through the union is a union of
 * intervals, exact and robust, and holes and pockets come for free (cf. semi-discrete
 * bottom-left-fill, Chehrazad, Roose and Wauters 2022, from memory).
 */
export interface NoFit extends Box {
  /** All polygons one after the other; each from its leftmost point, counter-clockwise. */
  readonly xy: Float64Array;
  /** First point of each polygon, then the count of all points. */
  readonly starts: Int32Array;
  /** For each polygon its minX, minY, maxX, maxY. */
  readonly boxes: Float64Array;
}

/**
 * No-fit regions of pairs and their slices, kept while there is room for them. They depend on the
 * gap, so sizes of sheet with the same gap share one.
 */
export class NoFitCache {
  #kept = new Map<number, NoFit>();
  #slices = new Map<number, Slices>();
  readonly #grown = new Map<number, GrownParts>();
  /** To work in. */
  readonly #room: Float64Array[] = [];
  #numbers = 0;
  readonly meter: Meter;

  constructor(meter = new Meter()) {
    this.meter = meter;
  }

  /** A shape in one of its turns, known by the index of the variant, grown by half the gap. */
  grownAs(index: number, { piece, parts }: Shape, turned: Turned, gapMm: number): GrownParts {
    const known = this.#grown.get(index);
    if (known !== undefined) return known;
    const made = new GrownParts(parts, turned, gapMm / 2 + piece.flatteningMm);
    this.#grown.set(index, made);
    return made;
  }

  of(placed: Variant, moving: Variant): NoFit {
    const key = keyOf(placed, moving);
    const known = this.#kept.get(key);
    if (known !== undefined) return known;
    const made = noFitOf(placed.grown, moving.grown);
    this.#count(made.xy.length);
    this.meter.spend(made.starts.length);
    this.#kept.set(key, made);
    return made;
  }

  /** Of two intricate pieces. */
  slicesOf(placed: Variant, moving: Variant): Slices {
    const key = keyOf(placed, moving);
    const known = this.#slices.get(key);
    if (known !== undefined) return known;
    const other = this.#slices.get(keyOf(moving, placed));
    const made = other === undefined ? this.#sliced(key, placed, moving) : exchanged(other);
    this.#count(made.spans.length + made.starts.length);
    this.#slices.set(key, made);
    return made;
  }

  #sliced(key: number, placed: Variant, moving: Variant): Slices {
    const noFit = this.#kept.get(key) ?? noFitOf(placed.grown, moving.grown);
    const made = slicesOf(noFit, placed, moving, this.#room);
    this.meter.spend(noFit.starts.length * (1 + CUT * made.starts.length));
    return made;
  }

  #count(numbers: number): void {
    this.#numbers += numbers;
    if (this.#numbers <= MOST_NUMBERS) return;
    this.#kept = new Map();
    this.#slices = new Map();
    this.#numbers = numbers;
  }
}

/** A cut through a region takes so much of the time of making it. */
const CUT = 0.03;

function keyOf(placed: Variant, moving: Variant): number {
  return placed.index * MOST_VARIANTS + moving.index;
}

const MOST_VARIANTS = 2 ** 24;
/** 128 MB of coordinates; more are made anew when needed. */
const MOST_NUMBERS = 2 ** 24;

/** Of two pieces as they are turned and grown. */
export function noFitOf(placed: GrownParts, moving: GrownParts): NoFit {
  const [parts, others] = [placed.parts, moving.reversed];
  const most = others.length * numbersIn(parts) + parts.length * numbersIn(others);
  const xy = new Float64Array(most);
  const count = parts.length * others.length;
  const starts = new Int32Array(count + 1);
  const boxes = new Float64Array(4 * count);
  const around = emptyBox();
  let at = 0;
  let index = 0;
  for (const part of parts) {
    for (const other of others) {
      const start = at;
      at = addConvexSum(part, other, xy, at);
      const box = emptyBox();
      for (let i = start; i < at; i += 2) include(box, xy[i]!, xy[i + 1]!);
      boxes.set([box.minX, box.minY, box.maxX, box.maxY], 4 * index);
      include(around, box.minX, box.minY);
      include(around, box.maxX, box.maxY);
      index++;
      starts[index] = at / 2;
    }
  }
  return { xy: xy.subarray(0, at), starts, boxes, ...around };
}

function numbersIn(polygons: readonly Float64Array[]): number {
  return polygons.reduce((sum, polygon) => sum + polygon.length, 0);
}

function emptyBox(): WritableBox {
  return { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity };
}

type WritableBox = { -readonly [Side in keyof Box]: Box[Side] };

function include(box: WritableBox, x: number, y: number): void {
  if (x < box.minX) box.minX = x;
  if (x > box.maxX) box.maxX = x;
  if (y < box.minY) box.minY = y;
  if (y > box.maxY) box.maxY = y;
}

/** Along which axis a line through a no-fit region runs. */
export type Axis = "x" | "y";

/**
 * How far a piece that is free at `from` may move down along an axis before it touches: the highest
 * touch at or below `from`, not under `least`. `across` is the other coordinate. All are differences
 * of positions.
 */
export function stopBelow(
  noFit: NoFit,
  axis: Axis,
  across: number,
  from: number,
  least: number,
): number {
  const [low, high, wideLow, wideHigh] = axis === "x" ? [0, 2, 1, 3] : [1, 3, 0, 2];
  let stop = least;
  for (let polygon = 0; polygon < noFit.starts.length - 1; polygon++) {
    const box = 4 * polygon;
    if (noFit.boxes[box + wideLow]! >= across - TOUCH_MM) continue;
    if (noFit.boxes[box + wideHigh]! <= across + TOUCH_MM) continue;
    if (noFit.boxes[box + low]! >= from - TOUCH_MM || noFit.boxes[box + high]! <= stop) continue;
    const { reachesFrom, reachesTo } = cut(noFit, polygon, axis, across);
    if (reachesFrom >= from - TOUCH_MM) continue;
    stop = Math.max(stop, Math.min(reachesTo, from));
  }
  return stop;
}

/** Where the line at `across` along an axis enters and leaves a polygon that it goes through. */
function cut(
  { xy, starts }: NoFit,
  polygon: number,
  axis: Axis,
  across: number,
): { reachesFrom: number; reachesTo: number } {
  const [along, wide] = axis === "x" ? [0, 1] : [1, 0];
  const [start, end] = [starts[polygon]!, starts[polygon + 1]!];
  let [reachesFrom, reachesTo] = [Infinity, -Infinity];
  let before = 2 * (end - 1);
  for (let point = 2 * start; point < 2 * end; point += 2) {
    const [w0, w1] = [xy[before + wide]!, xy[point + wide]!];
    if (w0 < across !== w1 < across) {
      const [l0, l1] = [xy[before + along]!, xy[point + along]!];
      const at = l0 + ((across - w0) / (w1 - w0)) * (l1 - l0);
      reachesFrom = Math.min(reachesFrom, at);
      reachesTo = Math.max(reachesTo, at);
    }
    before = point;
  }
  return { reachesFrom, reachesTo };
}
