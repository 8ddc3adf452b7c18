import { Amount } from "./money.ts";

/**
 * What formulas are made of. A formula is written once over this and read in several ways: in
 * decimals for the value, in doubles for thousands of draws, as text for a spreadsheet.
 */
export interface Arithmetic<Value> {
  /** A whole number that is part of the formula itself. */
  readonly whole: (number: number) => Value;
  readonly sum: (values: readonly Value[]) => Value;
  readonly product: (values: readonly Value[]) => Value;
  readonly minus: (from: Value, less: Value) => Value;
  /** @throws RangeError where values are numbers and `by` is 0. */
  readonly over: (value: Value, by: Value) => Value;
  /** Up to a whole number, the dust of earlier rounding (1e-9) left out. */
  readonly ceiling: (value: Value) => Value;
  /** To the nearest whole number, halves away from zero, dust left out. */
  readonly nearest: (value: Value) => Value;
  readonly largest: (values: readonly Value[]) => Value;
  /** `above` where value is more than the limit, else `within`. */
  readonly ifMore: (value: Value, limit: Value, above: Value, within: Value) => Value;
  /** Logarithm to the base 2 of a value above 0. */
  readonly log2: (value: Value) => Value;
  /** Of a base above 0. */
  readonly power: (base: Value, exponent: Value) => Value;
  /**
   * 1 + 2^e + 3^e + ... + count^e, for a whole count of 1 or more.
   */
  readonly sumOfPowers: (count: Value, exponent: Value) => Value;
}

/** Thirds and binary lengths leave less than this beside a whole number; no can is bought for it. */
export const DUST_DECIMALS = 9;

/** 40 digits; what figures are worked out in. */
export const DECIMALS: Arithmetic<Amount> = {
  whole: (number) => new Amount(number),
  sum: (values) => values.reduce((a, b) => a.plus(b), new Amount(0)),
  product: (values) => values.reduce((a, b) => a.times(b), new Amount(1)),
  minus: (from, less) => from.minus(less),
  over: (value, by) => {
    if (by.isZero()) throw new RangeError("division by zero");
    return value.div(by);
  },
  ceiling: (value) => dusted(value).ceil(),
  nearest: (value) => dusted(value).round(),
  largest: (values) => Amount.max(...values),
  ifMore: (value, limit, above, within) => (value.gt(limit) ? above : within),
  log2: (value) => value.log(2),
  power: (base, exponent) => base.pow(exponent),
  sumOfPowers: (count, exponent) =>
    powersTo(count.toNumber(), exponent).reduce((a, b) => a.plus(b), new Amount(0)),
};

/** i^e for i = 1 to count. Powers of products are products of powers: only primes take long. */
function powersTo(count: number, exponent: Amount): readonly Amount[] {
  if (!Number.isInteger(count) || count < 1) throw new RangeError("powers of a count, 1 or more");
  const powers: Amount[] = [new Amount(1)];
  for (const [index, factor] of smallestFactors(count).entries()) {
    const number = index + 1;
    if (number === 1) continue;
    const [one, other] = [powers[factor - 1], powers[number / factor - 1]];
    powers.push(
      factor === number || !one || !other ? new Amount(number).pow(exponent) : one.times(other),
    );
  }
  return powers;
}

/** The smallest prime in each of 1 to count (sieve of Eratosthenes); of 1 it is 1. */
function smallestFactors(count: number): readonly number[] {
  const factors = Array.from({ length: count }, (_, index) => index + 1);
  for (let prime = 2; prime * prime <= count; prime += 1) {
    if (factors[prime - 1] !== prime) continue;
    for (let multiple = prime * prime; multiple <= count; multiple += prime)
      if (factors[multiple - 1] === multiple) factors[multiple - 1] = prime;
  }
  return factors;
}

function dusted(value: Amount): Amount {
  return value.toDecimalPlaces(DUST_DECIMALS);
}
