import { Amount } from "./money.ts";
import type { Place } from "./problem.ts";

/**
 * An estimate is a small sheet of figures. A figure is given (read from a place) or derived (a named
 * formula over other figures). The one graph is read as value, as reason, and later as spreadsheet,
 * range and difference; nobody writes a derived value by hand.
 */

/** Units as printed; `currency` stands for the table set's currency. */
export type FigureUnit =
  | "m"
  | "m2"
  | "s"
  | "min"
  | "h"
  | "pcs"
  | "currency"
  | "currency/h"
  | "currency/min"
  | "currency/m"
  | "currency/m2"
  | "currency/kWh"
  | "kW"
  | "mm"
  | "days"
  | "percent"
  | "ratio"
  | "ml"
  | "um"
  | "l";

/** Where a given figure was read. */
export type Source =
  /** A cell of a parts list, job file or table; `cited` is the table row's own source column. */
  | { readonly kind: "cell"; readonly place: Place; readonly cited: string | null }
  /** Taken from an outline; `what` says how (`area inside the outline less holes`). */
  | { readonly kind: "measured"; readonly place: Place; readonly what: string }
  /** Counted in a judged nest or worked out by the motion model. */
  | {
      readonly kind: "computed";
      readonly by: "nest" | "motion" | "saw plan" | "panels";
      readonly what: string;
      /** Every row and drawing that it depends on. */
      readonly from: readonly Place[];
    };

/** The formulas there are. Each takes its inputs in order. */
export type FormulaName = keyof typeof FORMULAS;

export type Origin =
  | { readonly kind: "given"; readonly source: Source }
  | {
      readonly kind: "derived";
      readonly formula: FormulaName;
      readonly inputs: readonly string[];
      /** Why this formula, or where it is published; may be empty. */
      readonly because: string;
    };

export interface Figure {
  /** Dotted path, unique: `paint.primer.cans`. */
  readonly id: string;
  readonly label: string;
  readonly unit: FigureUnit;
  readonly value: Amount;
  readonly origin: Origin;
}

export interface Formula {
  /** How it is written for a person, `{0}`, `{1}` standing for the inputs and `{*}` for all. */
  readonly text: string;
  /** @throws RangeError when the inputs have no answer (division by zero). */
  readonly compute: (inputs: readonly Amount[]) => Amount;
}

const HUNDRED = new Amount(100);
/** Thirds and binary lengths leave less than this beside a whole number; no can is bought for it. */
const DUST_DECIMALS = 9;

export const FORMULAS = {
  sum: { text: "sum of {*}", compute: (xs) => xs.reduce((a, b) => a.plus(b), new Amount(0)) },
  product: {
    text: "product of {*}",
    compute: (xs) => xs.reduce((a, b) => a.times(b), new Amount(1)),
  },
  difference: { text: "{0} - {1}", compute: ([a, b]) => need(a).minus(need(b)) },
  quotient: { text: "{0} / {1}", compute: ([a, b]) => divide(need(a), need(b)) },
  /** How many whole units of {1} cover {0}. */
  "whole units": {
    text: "{0} / {1}, rounded up",
    compute: ([a, b]) => dusted(divide(need(a), need(b))).ceil(),
  },
  "rounded up": {
    text: "{0}, rounded up to a whole number",
    compute: ([a]) => dusted(need(a)).ceil(),
  },
  "at least": { text: "the larger of {*}", compute: (xs) => Amount.max(...xs) },
  percentage: { text: "{1} % of {0}", compute: ([a, p]) => need(a).times(need(p)).div(HUNDRED) },
  "plus percentage": {
    text: "{0} + {1} %",
    compute: ([a, p]) =>
      need(a)
        .times(HUNDRED.plus(need(p)))
        .div(HUNDRED),
  },
  "less percentage": {
    text: "{0} - {1} %",
    compute: ([a, p]) =>
      need(a)
        .times(HUNDRED.minus(need(p)))
        .div(HUNDRED),
  },
  /** Price from cost {0} and margin {1} on the price. */
  "cost over margin": {
    text: "{0} / (100 % - {1} %)",
    compute: ([a, p]) => divide(need(a).times(HUNDRED), HUNDRED.minus(need(p))),
  },
  /** m2 from {0} litres at {1} % volume solids and {2} micrometres of dry film. */
  "spreading rate": {
    text: "{0} x 10 x {1} / {2}",
    compute: ([litres, solids, film]) =>
      divide(need(litres).times(10).times(need(solids)), need(film)),
  },
  "ml to l": { text: "{0} / 1000", compute: ([a]) => need(a).div(1000) },
  "seconds to minutes": { text: "{0} / 60", compute: ([a]) => need(a).div(60) },
  "minutes to hours": { text: "{0} / 60", compute: ([a]) => need(a).div(60) },
  /** Multiplied first: 50 minutes at 30 are 25, and not a third's rounding less. */
  "minutes at hourly rate": {
    text: "{0} x {1} / 60",
    compute: ([minutes, rate]) => need(minutes).times(need(rate)).div(60),
  },
  /** What is charged for {0} minutes: {1} up to an hour, {2} for more than one. */
  "by the minute or the hour": {
    text: "{1}, or {2} where {0} is more than 60 min",
    compute: ([minutes, byMinute, byHour]) => {
      const [within, above] = [need(byMinute), need(byHour)];
      return need(minutes).gt(60) ? above : within;
    },
  },
  /** m2 covered by {0} m of lines that lie {1} mm apart. */
  "lines to area": {
    text: "{0} x {1} / 1000",
    compute: ([metres, apart]) => need(metres).times(need(apart)).div(1000),
  },
  /** {0} to the nearest multiple of the step {1}, halves away from zero. */
  "rounded to step": {
    text: "{0} rounded to the nearest {1}",
    compute: ([a, step]) =>
      dusted(divide(need(a), need(step)))
        .round()
        .times(need(step)),
  },
  /** {0} up to the next multiple of the step {1}. */
  "rounded up to step": {
    text: "{0} rounded up to a multiple of {1}",
    compute: ([a, step]) =>
      dusted(divide(need(a), need(step)))
        .ceil()
        .times(need(step)),
  },
} as const satisfies Record<string, Formula>;

/** Builds a graph; a figure may only use figures that came before it, so there are no circles. */
export class FigureSheet {
  readonly #figures = new Map<string, Figure>();

  /** @returns the id, for use as an input. */
  given(
    id: string,
    label: string,
    unit: FigureUnit,
    value: Amount | number,
    source: Source,
  ): string {
    return this.#add({
      id,
      label,
      unit,
      value: new Amount(value),
      origin: { kind: "given", source },
    });
  }

  /** Works the value out by the formula. @returns the id. */
  derived(
    id: string,
    label: string,
    unit: FigureUnit,
    formula: FormulaName,
    inputs: readonly string[],
    because = "",
  ): string {
    const value = FORMULAS[formula].compute(inputs.map((input) => this.value(input)));
    const origin = { kind: "derived", formula, inputs, because } as const;
    return this.#add({ id, label, unit, value, origin });
  }

  has(id: string): boolean {
    return this.#figures.has(id);
  }

  /** @throws RangeError for an id that is not (yet) there: a fault of ours. */
  value(id: string): Amount {
    const figure = this.#figures.get(id);
    if (!figure) throw new RangeError(`there is no figure "${id}" yet`);
    return figure.value;
  }

  /** All figures, inputs before what uses them. */
  figures(): readonly Figure[] {
    return [...this.#figures.values()];
  }

  #add(figure: Figure): string {
    if (this.#figures.has(figure.id))
      throw new RangeError(`figure "${figure.id}" is there already`);
    if (!figure.value.isFinite()) throw new RangeError(`figure "${figure.id}" has no finite value`);
    this.#figures.set(figure.id, figure);
    return figure.id;
  }
}

/**
 * Works the whole graph out anew with some given figures changed: what every other reading of the
 * graph (range, difference, spreadsheet) agrees with.
 */
export function recompute(
  figures: readonly Figure[],
  changed: ReadonlyMap<string, Amount>,
): ReadonlyMap<string, Amount> {
  const values = new Map<string, Amount>();
  for (const { id, origin, value } of figures) {
    const next =
      origin.kind === "given"
        ? (changed.get(id) ?? value)
        : FORMULAS[origin.formula].compute(origin.inputs.map((input) => need(values.get(input))));
    values.set(id, next);
  }
  return values;
}

function need(value: Amount | undefined): Amount {
  if (value === undefined) throw new RangeError("a formula got fewer inputs than it takes");
  return value;
}

function divide(a: Amount, b: Amount): Amount {
  if (b.isZero()) throw new RangeError("division by zero");
  return a.div(b);
}

function dusted(a: Amount): Amount {
  return a.toDecimalPlaces(DUST_DECIMALS);
}
