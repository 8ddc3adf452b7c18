import { DECIMALS } from "./arithmetic.ts";
import type { Arithmetic } from "./arithmetic.ts";
import type { Amount } from "./money.ts";

/**
 * What figures are derived by. Each formula is written once, over an arithmetic, and read in decimals, in
 * doubles and as spreadsheet text.
 */

/** The formulas there are. Each takes its inputs in order. */
export type FormulaName = keyof typeof FORMULAS;

export interface Formula {
  /** How it is written for a person, `{0}`, `{1}` standing for the inputs and `{*}` for all. */
  readonly text: string;
  /** @throws RangeError when the inputs have no answer (division by zero), or are too few. */
  readonly compute: <Value>(on: Arithmetic<Value>, inputs: readonly Value[]) => Value;
}

export const FORMULAS = {
  sum: { text: "sum of {*}", compute: (on, xs) => on.sum(xs) },
  product: { text: "product of {*}", compute: (on, xs) => on.product(xs) },
  difference: { text: "{0} - {1}", compute: (on, [a, b]) => on.minus(need(a), need(b)) },
  quotient: { text: "{0} / {1}", compute: (on, [a, b]) => on.over(need(a), need(b)) },
  /** How many whole units of {1} cover {0}. */
  "whole units": {
    text: "{0} / {1}, rounded up",
    compute: (on, [a, b]) => on.ceiling(on.over(need(a), need(b))),
  },
  "rounded up": {
    text: "{0}, rounded up to a whole number",
    compute: (on, [a]) => on.ceiling(need(a)),
  },
  /** By sum and larger alone, which every arithmetic has. */
  "at most": {
    text: "the smaller of {0}, {1}",
    compute: (on, [a, b]) => on.minus(on.sum([need(a), need(b)]), on.largest([need(a), need(b)])),
  },
  "at least": { text: "the larger of {*}", compute: (on, xs) => on.largest(xs) },
  /**
   * Of the lengths {1}, {2} and so on, shortest first, the first that is {0} or more, to the thousandth;
   * else the last.
   */
  "smallest that covers": {
    text: "the shortest length in {*} that covers {0}",
    compute: (on, [needed, ...stocked]) => {
      const thousandths = on.nearest(on.product([need(needed), on.whole(1000)]));
      const rounded = on.over(thousandths, on.whole(1000));
      return stocked
        .slice(0, -1)
        .reduceRight(
          (longer, length) => on.ifMore(rounded, length, longer, length),
          need(stocked.at(-1)),
        );
    },
  },
  /** {0} where the length taken {1} is its own {2}, else none. */
  "where taken": {
    text: "{0} where {1} is {2}, else 0",
    compute: (on, [count, taken, own]) =>
      on.ifMore(
        need(taken),
        need(own),
        on.whole(0),
        on.ifMore(need(own), need(taken), on.whole(0), need(count)),
      ),
  },
  /** ml in {1} mm of a bead {0} mm across: length x pi d2 / 4 (adhesive chart); pi as 355/113. */
  "bead volume": {
    text: "{1} x pi / 4 x {0}^2 / 1000",
    compute: (on, [across, length]) =>
      on.over(
        on.product([on.whole(355), need(across), need(across), need(length)]),
        on.whole(113 * 4 * 1000),
      ),
  },
  /** ml in {1} cm2 of a film {0} mm thick. */
  "film volume": {
    text: "{0} x {1} / 10",
    compute: (on, [film, area]) => on.over(on.product([need(film), need(area)]), on.whole(10)),
  },
  percentage: {
    text: "{1} % of {0}",
    compute: (on, [a, p]) => on.over(on.product([need(a), need(p)]), on.whole(100)),
  },
  "plus percentage": {
    text: "{0} + {1} %",
    compute: (on, [a, p]) =>
      on.over(on.product([need(a), on.sum([on.whole(100), need(p)])]), on.whole(100)),
  },
  "less percentage": {
    text: "{0} - {1} %",
    compute: (on, [a, p]) =>
      on.over(on.product([need(a), on.minus(on.whole(100), need(p))]), on.whole(100)),
  },
  /** How much {0} is of {1}. */
  "share in percent": {
    text: "{0} / {1} in percent",
    compute: (on, [a, b]) => on.over(on.product([need(a), on.whole(100)]), need(b)),
  },
  "rest in percent": {
    text: "100 % - {0} %",
    compute: (on, [p]) => on.minus(on.whole(100), need(p)),
  },
  /** What {0} pieces get off at {1} for each after the first, but no more than {2}. */
  "repeat percentage": {
    text: "{1} % for each of {0} after the first, at most {2} %",
    compute: (on, [pieces, each, most]) => {
      const all = on.product([on.minus(need(pieces), on.whole(1)), need(each)]);
      // The smaller of two is what the larger leaves of their sum.
      return on.minus(on.sum([all, need(most)]), on.largest([all, need(most)]));
    },
  },
  /** By how many days {1} is before {0}. */
  "days sooner": {
    text: "{0} - {1}, or 0 where that is less",
    compute: (on, [usual, wanted]) =>
      on.largest([on.minus(need(usual), need(wanted)), on.whole(0)]),
  },
  negative: { text: "-{0}", compute: (on, [a]) => on.minus(on.whole(0), need(a)) },
  /** Price from cost {0} and margin {1} on the price. */
  "cost over margin": {
    text: "{0} / (100 % - {1} %)",
    compute: (on, [a, p]) =>
      on.over(on.product([need(a), on.whole(100)]), on.minus(on.whole(100), need(p))),
  },
  /** m2 from {0} litres at {1} % volume solids and {2} micrometres of dry film. */
  "spreading rate": {
    text: "{0} x 10 x {1} / {2}",
    compute: (on, [litres, solids, film]) =>
      on.over(on.product([need(litres), on.whole(10), need(solids)]), need(film)),
  },
  /** Percent of solids left of {0} % when {1} % of thinner are added. */
  "thinned solids": {
    text: "{0} x 100 / (100 + {1})",
    compute: (on, [solids, thinner]) =>
      on.over(on.product([need(solids), on.whole(100)]), on.sum([on.whole(100), need(thinner)])),
  },
  /** Micrometres as applied, of {0} dry at {1} % volume solids. */
  "wet film": {
    text: "{0} x 100 / {1}",
    compute: (on, [film, solids]) => on.over(on.product([need(film), on.whole(100)]), need(solids)),
  },
  /** What has to be there for {0} to be left when {1} % are lost. */
  "grown for loss": {
    text: "{0} / (100 % - {1} %)",
    compute: (on, [a, p]) =>
      on.over(on.product([need(a), on.whole(100)]), on.minus(on.whole(100), need(p))),
  },
  "g to kg": { text: "{0} / 1000", compute: (on, [a]) => on.over(need(a), on.whole(1000)) },
  "mm3 to cm3": {
    text: "{0} x {1} x {2} / 1000",
    compute: (on, [a, b, c]) => on.over(on.product([need(a), need(b), need(c)]), on.whole(1000)),
  },
  /** {0}, then steps: up to how much, and the price; more than the last step has the last price. */
  "price by steps": {
    text: "{*}: the price of the first step that the first value does not exceed",
    compute: (on, [value, ...steps]) => priceByStep(on, need(value), steps),
  },
  "ml to l": { text: "{0} / 1000", compute: (on, [a]) => on.over(need(a), on.whole(1000)) },
  "seconds to minutes": { text: "{0} / 60", compute: (on, [a]) => on.over(need(a), on.whole(60)) },
  "minutes to hours": { text: "{0} / 60", compute: (on, [a]) => on.over(need(a), on.whole(60)) },
  /** Multiplied first: 50 minutes at 30 are 25, and not a third's rounding less. */
  "minutes at hourly rate": {
    text: "{0} x {1} / 60",
    compute: (on, [minutes, rate]) =>
      on.over(on.product([need(minutes), need(rate)]), on.whole(60)),
  },
  /** What is charged for {0} minutes: {1} up to an hour, {2} for more than one. */
  "by the minute or the hour": {
    text: "{1}, or {2} where {0} is more than 60 min",
    compute: (on, [minutes, byMinute, byHour]) =>
      on.ifMore(need(minutes), on.whole(60), need(byHour), need(byMinute)),
  },
  /** m2 covered by {0} m of lines that lie {1} mm apart. */
  "lines to area": {
    text: "{0} x {1} / 1000",
    compute: (on, [metres, apart]) =>
      on.over(on.product([need(metres), need(apart)]), on.whole(1000)),
  },
  /** {0} to the nearest multiple of the step {1}, halves away from zero. */
  "rounded to step": {
    text: "{0} rounded to the nearest {1}",
    compute: (on, [a, step]) => on.product([on.nearest(on.over(need(a), need(step))), need(step)]),
  },
  /** b of a learning curve on which twice the units take {0} % of the time each. */
  "learning exponent": {
    text: "log2 of {0} %",
    compute: (on, [percent]) => on.log2(on.over(need(percent), on.whole(100))),
  },
  /** How many first units {0} units take, where unit i takes i^{1} of the first (unit model). */
  "learned by the unit": {
    text: "sum of i^{1} for i = 1 to {0}",
    compute: (on, [units, exponent]) => on.sumOfPowers(need(units), need(exponent)),
  },
  /** The same where the average of {0} units is {0}^{1} of the first (cumulative average model). */
  "learned by the average": {
    text: "{0}^(1 + {1})",
    compute: (on, [units, exponent]) =>
      on.product([need(units), on.power(need(units), need(exponent))]),
  },
  /** {0} up to the next multiple of the step {1}. */
  "rounded up to step": {
    text: "{0} rounded up to a multiple of {1}",
    compute: (on, [a, step]) => on.product([on.ceiling(on.over(need(a), need(step))), need(step)]),
  },
} as const satisfies Record<string, Formula>;

/** The value of a formula in decimals. @throws RangeError when its inputs have no answer. */
export function valueOf(formula: FormulaName, inputs: readonly Amount[]): Amount {
  return FORMULAS[formula].compute(DECIMALS, inputs);
}

function priceByStep<Value>(
  on: Arithmetic<Value>,
  value: Value,
  [limit, price, ...further]: readonly Value[],
): Value {
  if (further.length === 0) return need(price);
  return on.ifMore(value, need(limit), priceByStep(on, value, further), need(price));
}

function need<Value>(value: Value | undefined): Value {
  if (value === undefined) throw new RangeError("a formula got fewer inputs than it takes");
  return value;
}
