import { valueOf } from "./formulas.ts";
import type { FormulaName } from "./formulas.ts";
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
  | "cm3"
  | "g"
  | "kg"
  | "kg/m"
  | "kg/m3"
  | "cm3/kg"
  | "days"
  | "percent"
  | "ratio"
  | "ml"
  | "cm2"
  | "um"
  | "l";

/** Where a given figure was read. */
export type Source =
  /** A cell of a parts list, job file or table; `cited` is the table row's own source column. */
  | { readonly kind: "cell"; readonly place: Place; readonly cited: string | null }
  /** Taken from an outline; `what` says how (`area inside the outline less holes`). */
  | { readonly kind: "measured"; readonly place: Place; readonly what: string }
  /** Counted in a judged nest or among slots, or worked out by the motion model. */
  | {
      readonly kind: "computed";
      readonly by: "nest" | "motion" | "saw plan" | "panels" | "slots" | "drying times";
      readonly what: string;
      /** Every row and drawing that it depends on. */
      readonly from: readonly Place[];
    };

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
  /** How far a given value may lie off, where its row says so; the value is the likely one. */
  readonly spread?: FigureSpread;
  readonly origin: Origin;
}

/** What is hardly gone below, and hardly gone above. */
export interface FigureSpread {
  readonly low: Amount;
  readonly high: Amount;
  /** The row that says so, where the source does not: figures of one row lie off together. */
  readonly of?: Place;
}

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
    spread: FigureSpread | null = null,
  ): string {
    return this.#add({
      id,
      label,
      unit,
      value: new Amount(value),
      ...(spread === null ? {} : { spread }),
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
    const value = valueOf(
      formula,
      inputs.map((input) => this.value(input)),
    );
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
        : valueOf(
            origin.formula,
            origin.inputs.map((input) => need(values, input)),
          );
    values.set(id, next);
  }
  return values;
}

function need(values: ReadonlyMap<string, Amount>, id: string): Amount {
  const value = values.get(id);
  if (value === undefined) throw new RangeError(`figure "${id}" is used before it is there`);
  return value;
}
