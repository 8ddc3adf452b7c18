import type { Box } from "../geometry/types.ts";
import type { Variant } from "./bed.ts";
import { TOUCH_MM } from "./column.ts";
import { convexSum } from "./convex-sum.ts";
import { Meter } from "./meter.ts";
import { exchanged, slicesOf, type Slices } from "./slices.ts";

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
  #numbers = 0;
  readonly meter: Meter;

  constructor(meter = new Meter()) {
    this.meter = meter;
  }

  of(placed: Variant, moving: Variant): NoFit {
    const key = keyOf(placed, moving);
    const known = this.#kept.get(key);
    if (known !== undefined) return known;
    const made = noFitOf(placed, moving);
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
    const noFit = this.#kept.get(key) ?? noFitOf(placed, moving);
    this.meter.spend(SLICING * noFit.starts.length);
    return slicesOf(noFit, placed, moving);
  }

  #count(numbers: number): void {
    this.#numbers += numbers;
    if (this.#numbers <= MOST_NUMBERS) return;
    this.#kept = new Map();
    this.#slices = new Map();
    this.#numbers = numbers;
  }
}

/** Making a polygon and cutting it takes so many times as long as making it. */
const SLICING = 3;

function keyOf(placed: Variant, moving: Variant): number {
  return placed.index * MOST_VARIANTS + moving.index;
}

const MOST_VARIANTS = 2 ** 24;
/** 128 MB of coordinates; more are made anew when needed. */
const MOST_NUMBERS = 2 ** 24;

function noFitOf(placed: Variant, moving: Variant): NoFit {
  const polygons = placed.parts.flatMap((part) =>
    moving.reversed.map((other) => convexSum(part, other)),
  );
  const length = polygons.reduce((sum, polygon) => sum + polygon.length, 0);
  const xy = new Float64Array(length);
  const starts = new Int32Array(polygons.length + 1);
  const boxes = new Float64Array(4 * polygons.length);
  const around = emptyBox();
  let at = 0;
  for (const [index, polygon] of polygons.entries()) {
    xy.set(polygon, at);
    at += polygon.length;
    starts[index + 1] = at / 2;
    const box = emptyBox();
    for (let i = 0; i < polygon.length; i += 2) include(box, polygon[i]!, polygon[i + 1]!);
    boxes.set([box.minX, box.minY, box.maxX, box.maxY], 4 * index);
    include(around, box.minX, box.minY);
    include(around, box.maxX, box.maxY);
  }
  return { xy, starts, boxes, ...around };
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
