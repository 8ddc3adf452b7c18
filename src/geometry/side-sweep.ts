import type { RingSides } from "./ring-sides.ts";

/**
 * Finds the pairs of sides whose boxes come within the reach of each other. Sides are passed along
 * the longer side of the common box, each in the bands across it that it reaches; a band keeps the
 * sides that have not ended yet. About n steps for n sides that spread over an area.
 * @param visit gets the index of the earlier and of the later side, each pair once; gives back true
 * to end the sweep.
 */
export function sweepPairs(
  sides: RingSides,
  reachMm: number,
  visit: (earlier: number, later: number) => boolean,
): void {
  if (sides.count < 2) return;
  const spans = new Spans(sides, reachMm);
  const bands: number[][] = Array.from({ length: spans.bands }, () => []);
  for (const side of spans.inOrder()) {
    const [step, first, last] = [spans.step(side), spans.firstBand(side), spans.lastBand(side)];
    for (let band = first; band <= last; band++) {
      const passing = bands[band] ?? [];
      let kept = 0;
      for (const other of passing) {
        if (spans.lastStep(other) < step) continue;
        passing[kept++] = other;
        const isFirstMeeting = band === first || band === spans.firstBand(other);
        if (isFirstMeeting && spans.meet(other, side) && visit(other, side)) return;
      }
      passing[kept++] = side;
      passing.length = kept;
    }
  }
}

/** More steps would not tell sides apart better. */
const MOST_STEPS = 2 ** 20;

/** How far sides and the reach beyond them go: along the sweep in steps, across it in bands. */
class Spans {
  readonly bands: number;
  readonly #steps: number;
  readonly #low: Float64Array;
  readonly #high: Float64Array;
  readonly #left: Float64Array;
  readonly #right: Float64Array;
  readonly #firstStep: Int32Array;
  readonly #lastStep: Int32Array;
  readonly #firstBand: Int32Array;
  readonly #lastBand: Int32Array;

  constructor({ x, y, next, count }: RingSides, reachMm: number) {
    const [width, height] = [rangeOf(x, reachMm), rangeOf(y, reachMm)];
    const alongX = width.size >= height.size;
    const [along, across] = alongX ? [x, y] : [y, x];
    const [length, breadth] = alongX ? [width, height] : [height, width];
    const endOf = (values: Float64Array, side: number): number => values[next[side] ?? 0] ?? 0;
    this.#low = along.map((value, side) => Math.min(value, endOf(along, side)));
    this.#high = along.map((value, side) => Math.max(value, endOf(along, side)) + reachMm);
    this.#left = across.map((value, side) => Math.min(value, endOf(across, side)));
    this.#right = across.map((value, side) => Math.max(value, endOf(across, side)) + reachMm);
    this.#steps = Math.min(MOST_STEPS, count);
    // Bands as broad as a mean side: one side is then in about two of them.
    const left = this.#left;
    const mean =
      this.#right.reduce((sum, right, side) => sum + right - (left[side] ?? 0), 0) / count;
    this.bands = mean > 0 ? Math.max(1, Math.min(count, Math.ceil(breadth.size / mean))) : 1;
    this.#firstStep = partsOf(this.#low, length, this.#steps);
    this.#lastStep = partsOf(this.#high, length, this.#steps);
    this.#firstBand = partsOf(this.#left, breadth, this.bands);
    this.#lastBand = partsOf(this.#right, breadth, this.bands);
  }

  /** By the step in which they begin. */
  inOrder(): Int32Array {
    const starts = new Int32Array(this.#steps + 1);
    for (const step of this.#firstStep) add(starts, step + 1, 1);
    for (let step = 1; step <= this.#steps; step++) add(starts, step, starts[step - 1] ?? 0);
    const order = new Int32Array(this.#firstStep.length);
    for (const [side, step] of this.#firstStep.entries()) {
      order[starts[step] ?? 0] = side;
      add(starts, step, 1);
    }
    return order;
  }

  /** Where it begins. */
  step(side: number): number {
    return this.#firstStep[side] ?? 0;
  }

  lastStep(side: number): number {
    return this.#lastStep[side] ?? 0;
  }

  firstBand(side: number): number {
    return this.#firstBand[side] ?? 0;
  }

  lastBand(side: number): number {
    return this.#lastBand[side] ?? 0;
  }

  meet(one: number, two: number): boolean {
    return (
      (this.#low[one] ?? 0) <= (this.#high[two] ?? 0) &&
      (this.#low[two] ?? 0) <= (this.#high[one] ?? 0) &&
      (this.#left[one] ?? 0) <= (this.#right[two] ?? 0) &&
      (this.#left[two] ?? 0) <= (this.#right[one] ?? 0)
    );
  }
}

interface Range {
  readonly from: number;
  readonly size: number;
}

function rangeOf(values: Float64Array, reach: number): Range {
  const from = values.reduce((least, value) => Math.min(least, value), Infinity);
  const to = values.reduce((most, value) => Math.max(most, value), -Infinity);
  return { from, size: to + reach - from };
}

/** The parts of a range that values lie in; never falling with the value. */
function partsOf(values: Float64Array, { from, size }: Range, parts: number): Int32Array {
  const perMm = size > 0 ? parts / size : 0;
  const found = new Int32Array(values.length);
  for (let index = 0; index < found.length; index++)
    found[index] = Math.min(parts - 1, Math.floor(((values[index] ?? from) - from) * perMm));
  return found;
}

function add(counts: Int32Array, at: number, more: number): void {
  counts[at] = (counts[at] ?? 0) + more;
}
