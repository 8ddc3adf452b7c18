/** The upper edge of what lies on a sheet, from left to right: steps of one height each. */
export class Skyline {
  /** How many steps there are. */
  steps = 0;
  /** Left ends, widths and heights of the steps. */
  readonly lefts: Float64Array;
  readonly widths: Float64Array;
  readonly tops: Float64Array;

  /** For no more than so many rectangles on a sheet. */
  constructor(most: number) {
    this.lefts = new Float64Array(most + 2);
    this.widths = new Float64Array(most + 2);
    this.tops = new Float64Array(most + 2);
  }

  clear(width: number): void {
    this.steps = 1;
    this.lefts[0] = 0;
    this.widths[0] = width;
    this.tops[0] = 0;
  }

  /** The lowest step, the leftmost of several. */
  lowest(): number {
    const { tops, steps } = this;
    let lowest = 0;
    for (let step = 1; step < steps; step++) if (tops[step]! < tops[lowest]!) lowest = step;
    return lowest;
  }

  /** Raises the left or the right end of a step, no wider than it, to a height above its own. */
  put(step: number, width: number, top: number, atRight: boolean): void {
    const { lefts, widths, tops } = this;
    if (width >= widths[step]!) {
      tops[step] = top;
      this.#join(step);
      return;
    }
    const left = lefts[step]!;
    const rest = widths[step]! - width;
    if (atRight) {
      if (step + 1 < this.steps && tops[step + 1] === top) {
        lefts[step + 1] = left + rest;
        widths[step + 1]! += width;
        widths[step] = rest;
        return;
      }
      this.#insert(step + 1);
      lefts[step + 1] = left + rest;
      widths[step + 1] = width;
      tops[step + 1] = top;
      widths[step] = rest;
      return;
    }
    if (step > 0 && tops[step - 1] === top) {
      widths[step - 1]! += width;
      lefts[step] = left + width;
      widths[step] = rest;
      return;
    }
    this.#insert(step);
    widths[step] = width;
    tops[step] = top;
    lefts[step + 1] = left + width;
    widths[step + 1] = rest;
  }

  /** Gives a step up: it becomes as high as its lower neighbour. False when there is none. */
  fill(step: number): boolean {
    if (this.steps === 1) return false;
    const { tops } = this;
    const left = step > 0 ? tops[step - 1]! : Infinity;
    const right = step + 1 < this.steps ? tops[step + 1]! : Infinity;
    tops[step] = Math.min(left, right);
    this.#join(step);
    return true;
  }

  #insert(step: number): void {
    const { lefts, widths, tops } = this;
    for (let at = this.steps; at > step; at--) {
      lefts[at] = lefts[at - 1]!;
      widths[at] = widths[at - 1]!;
      tops[at] = tops[at - 1]!;
    }
    this.steps++;
  }

  /** With neighbours of the same height. */
  #join(step: number): void {
    const { widths, tops } = this;
    if (step + 1 < this.steps && tops[step + 1] === tops[step]) {
      widths[step]! += widths[step + 1]!;
      this.#drop(step + 1);
    }
    if (step > 0 && tops[step - 1] === tops[step]) {
      widths[step - 1]! += widths[step]!;
      this.#drop(step);
    }
  }

  #drop(step: number): void {
    const { lefts, widths, tops } = this;
    this.steps--;
    for (let at = step; at < this.steps; at++) {
      lefts[at] = lefts[at + 1]!;
      widths[at] = widths[at + 1]!;
      tops[at] = tops[at + 1]!;
    }
  }
}
