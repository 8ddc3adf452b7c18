import { FORMULAS } from "../formulas.ts";
import type { Figure } from "../figure.ts";
import type { FormulaName } from "../formulas.ts";
import { DOUBLES } from "./doubles.ts";

/** What has to be worked out anew for one figure when some given ones change. */
export interface Program {
  /** In the order of the ids that it was made for. @returns the value of the target. */
  readonly run: (values: readonly number[]) => number;
}

interface Step {
  readonly at: number;
  readonly formula: FormulaName;
  readonly inputs: readonly number[];
}

/**
 * The formulas between some given figures and one target, in doubles. All else keeps its value: where
 * the given figures do not lead, nothing is worked out again.
 * @throws RangeError when the target is not among the figures.
 */
export function programFor(
  figures: readonly Figure[],
  inputs: readonly string[],
  target: string,
): Program {
  const places = new Map(figures.map(({ id }, at) => [id, at]));
  const placeOf = (id: string): number => {
    const at = places.get(id);
    if (at === undefined) throw new RangeError(`there is no figure "${id}"`);
    return at;
  };
  const inputPlaces = inputs.map(placeOf);
  const steps = stepsBetween(figures, new Set(inputPlaces), placeOf(target), placeOf);
  const now = Float64Array.from(figures, ({ value }) => value.toNumber());
  const targetPlace = placeOf(target);
  return {
    run: (values) => {
      for (const [index, at] of inputPlaces.entries()) now[at] = values[index]!;
      for (const { at, formula, inputs: from } of steps)
        now[at] = FORMULAS[formula].compute(
          DOUBLES,
          from.map((place) => now[place]!),
        );
      return now[targetPlace]!;
    },
  };
}

/** Derived figures that change with the inputs and that the target hangs on, inputs first. */
function stepsBetween(
  figures: readonly Figure[],
  inputs: ReadonlySet<number>,
  target: number,
  placeOf: (id: string) => number,
): readonly Step[] {
  const moving = new Set(inputs);
  const steps: Step[] = [];
  for (const [at, { origin }] of figures.entries()) {
    if (origin.kind === "given") continue;
    const from = origin.inputs.map(placeOf);
    if (!from.some((place) => moving.has(place))) continue;
    moving.add(at);
    steps.push({ at, formula: origin.formula, inputs: from });
  }
  const wanted = new Set([target]);
  for (const { at, inputs: from } of steps.toReversed())
    if (wanted.has(at)) for (const place of from) wanted.add(place);
  return steps.filter(({ at }) => wanted.has(at));
}
