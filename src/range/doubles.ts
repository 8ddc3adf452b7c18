import type { Arithmetic } from "../arithmetic.ts";
import { DUST_DECIMALS } from "../arithmetic.ts";

/** Formulas in binary floating point: for thousands of draws, never for a figure that is quoted. */
export const DOUBLES: Arithmetic<number> = {
  whole: (number) => number,
  sum: (values) => values.reduce((a, b) => a + b, 0),
  product: (values) => values.reduce((a, b) => a * b, 1),
  minus: (from, less) => from - less,
  over: (value, by) => {
    if (by === 0) throw new RangeError("division by zero");
    return value / by;
  },
  ceiling: (value) => Math.ceil(dusted(value)),
  nearest: (value) => Math.sign(value) * Math.round(Math.abs(dusted(value))),
  largest: (values) => Math.max(...values),
  ifMore: (value, limit, above, within) => (value > limit ? above : within),
  log2: (value) => Math.log2(value),
  power: (base, exponent) => base ** exponent,
  sumOfPowers: (count, exponent) => {
    if (!Number.isInteger(count) || count < 1) throw new RangeError("powers of a count, 1 or more");
    let sum = 0;
    for (let number = 1; number <= count; number += 1) sum += number ** exponent;
    return sum;
  },
};

const DUST = 10 ** DUST_DECIMALS;

/** Large values have no digits left to be dust. */
function dusted(value: number): number {
  const scaled = value * DUST;
  return Number.isSafeInteger(Math.round(scaled)) ? Math.round(scaled) / DUST : value;
}
