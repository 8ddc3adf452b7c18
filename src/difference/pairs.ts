import type { Figure } from "../figure.ts";

/** Two sheets of figures side by side, by the ids of their figures. */

/** A figure as it was and as it is; null where it is not there. */
export interface Pair {
  readonly id: string;
  readonly before: Figure | null;
  readonly after: Figure | null;
}

export type Pairs = ReadonlyMap<string, Pair>;

/** In the order of the ids, so that it does not matter which of the two came first. */
export function pairsOf(before: readonly Figure[], after: readonly Figure[]): Pairs {
  const [was, is] = [before, after].map((all) => new Map(all.map((one) => [one.id, one])));
  const ids = [...new Set([...before, ...after].map(({ id }) => id))].toSorted();
  return new Map(
    ids.map((id) => [id, { id, before: was?.get(id) ?? null, after: is?.get(id) ?? null }]),
  );
}

/** The one that there is, of a figure that is on one side only; null for one that is on both. */
export function aloneOf({ before, after }: Pair): Figure | null {
  if (before !== null && after !== null) return null;
  return before ?? after;
}

/** Whether only one of the sides has the figure. */
export function isAlone(id: string, pairs: Pairs): boolean {
  const pair = pairs.get(id);
  return pair !== undefined && aloneOf(pair) !== null;
}

/** Whether its given value is another one. */
export function isMoved({ before, after }: Pair): boolean {
  return (
    before?.origin.kind === "given" &&
    after?.origin.kind === "given" &&
    !before.value.eq(after.value)
  );
}

/** Whether it is on both sides and comes about in another way: given or derived, formula, inputs. */
export function isReckonedAnew({ before, after }: Pair): boolean {
  if (before === null || after === null) return false;
  const [was, is] = [before.origin, after.origin];
  if (was.kind === "given" || is.kind === "given") return was.kind !== is.kind;
  const sameInputs =
    was.inputs.length === is.inputs.length &&
    was.inputs.every((input, index) => input === is.inputs[index]);
  return was.formula !== is.formula || !sameInputs;
}

/** What two lists have in common, however often, and what only one of them has. */
export interface Shared {
  readonly both: readonly string[];
  readonly before: readonly string[];
  readonly after: readonly string[];
}

/** Summands of a sum on both sides; null for anything else. */
export function sumsOf({ before, after }: Pair): Shared | null {
  const [was, is] = [before?.origin, after?.origin];
  if (was?.kind !== "derived" || is?.kind !== "derived") return null;
  if (was.formula !== "sum" || is.formula !== "sum") return null;
  const rest = [...is.inputs];
  const both = was.inputs.filter((input) => take(rest, input));
  const common = [...both];
  return { both, before: was.inputs.filter((input) => !take(common, input)), after: rest };
}

/** Takes one of them out of the list. @returns whether there was one. */
function take(list: string[], input: string): boolean {
  const index = list.indexOf(input);
  if (index >= 0) list.splice(index, 1);
  return index >= 0;
}
