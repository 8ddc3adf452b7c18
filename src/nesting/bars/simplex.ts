/** A row of the program: the sum of its columns is to be at least, or at most, its amount. */
export interface Row {
  readonly atLeast: boolean;
  /** 0 or more. */
  readonly amount: number;
}

/**
 * The revised simplex for a program whose columns are found as they are needed (Dantzig 1953;
 * Gilmore and Gomory 1961). It begins with every `atLeast` row short of its whole amount, at the
 * price of `penalty` for each unit, and every other row unused.
 */
export class Simplex<Tag> {
  readonly #rows: readonly Row[];
  readonly #inverse: Float64Array[];
  readonly #levels: Float64Array;
  readonly #costs: Float64Array;
  readonly #tags: (Tag | "short" | "spare")[];
  readonly #penalty: number;

  constructor(rows: readonly Row[], penalty: number) {
    this.#rows = rows;
    this.#penalty = penalty;
    this.#inverse = rows.map((_, row) => {
      const unit = new Float64Array(rows.length);
      unit[row] = 1;
      return unit;
    });
    this.#levels = Float64Array.from(rows, ({ amount }) => amount);
    this.#costs = Float64Array.from(rows, ({ atLeast }) => (atLeast ? penalty : 0));
    this.#tags = rows.map(({ atLeast }) => (atLeast ? "short" : "spare"));
  }

  /** What one unit more in each row would cost. */
  duals(): Float64Array {
    const duals = new Float64Array(this.#rows.length);
    for (const [index, line] of this.#inverse.entries()) {
      const cost = this.#costs[index]!;
      if (cost === 0) continue;
      for (let row = 0; row < duals.length; row++) duals[row]! += cost * line[row]!;
    }
    return duals;
  }

  /** Takes in what a row is short of, or has to spare, where its dual calls for it; whether one did. */
  enterSpare(duals: Float64Array): boolean {
    const missing = this.#rows.findIndex(
      ({ atLeast }, row) => atLeast && duals[row]! > this.#penalty * (1 + TINY),
    );
    if (missing >= 0) return this.enter(this.#unit(missing, 1), this.#penalty, "short");
    const spare = this.#rows.findIndex(({ atLeast }, row) =>
      atLeast ? duals[row]! < -TINY : duals[row]! > TINY,
    );
    if (spare < 0) return false;
    return this.enter(this.#unit(spare, this.#rows[spare]!.atLeast ? -1 : 1), 0, "spare");
  }

  /** Takes in a column as far as it goes. False where nothing holds it: a fault of rounding. */
  enter(column: ArrayLike<number>, cost: number, tag: Tag | "short" | "spare"): boolean {
    const slopes = this.#inverse.map((line) => dot(line, column));
    const leaving = this.#leaving(slopes);
    if (leaving < 0) return false;
    const step = this.#levels[leaving]! / slopes[leaving]!;
    const pivot = this.#inverse[leaving]!;
    for (let row = 0; row < pivot.length; row++) pivot[row]! /= slopes[leaving]!;
    for (const [index, line] of this.#inverse.entries()) {
      const slope = slopes[index]!;
      if (index === leaving || slope === 0) continue;
      for (let row = 0; row < line.length; row++) line[row]! -= slope * pivot[row]!;
      this.#levels[index] = Math.max(0, this.#levels[index]! - slope * step);
    }
    this.#levels[leaving] = step;
    this.#costs[leaving] = cost;
    this.#tags[leaving] = tag;
    return true;
  }

  /** The columns in use, with how much of each. */
  used(): readonly { readonly tag: Tag; readonly level: number }[] {
    return this.#tags.flatMap((tag, index) => {
      const level = this.#levels[index]!;
      return tag === "short" || tag === "spare" || level <= TINY ? [] : [{ tag, level }];
    });
  }

  #unit(row: number, amount: number): Float64Array {
    const column = new Float64Array(this.#rows.length);
    column[row] = amount;
    return column;
  }

  /** The row whose column goes out first; of equal ones that with the largest slope, for its rounding. */
  #leaving(slopes: readonly number[]): number {
    let leaving = -1;
    let least = Infinity;
    for (const [index, slope] of slopes.entries()) {
      if (slope <= TINY) continue;
      const step = this.#levels[index]! / slope;
      if (step > least + TINY || (step > least - TINY && slope <= slopes[leaving]!)) continue;
      least = Math.min(step, least);
      leaving = index;
    }
    return leaving;
  }
}

const TINY = 1e-9;

function dot(line: Float64Array, column: ArrayLike<number>): number {
  let sum = 0;
  for (let row = 0; row < line.length; row++) sum += line[row]! * column[row]!;
  return sum;
}
