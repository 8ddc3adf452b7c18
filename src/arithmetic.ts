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
};

function dusted(value: Amount): Amount {
  return value.toDecimalPlaces(DUST_DECIMALS);
}
