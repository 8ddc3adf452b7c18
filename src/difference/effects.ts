import { valueOf } from "../formulas.ts";
import type { Figure } from "../figure.ts";
import { Amount } from "../money.ts";
import { changesOf } from "./changes.ts";
import type { Change } from "./changes.ts";
import { isAlone, isMoved, isReckonedAnew, pairsOf, sumsOf } from "./pairs.ts";
import type { Pair, Pairs } from "./pairs.ts";

/** How much of the difference of one figure each change accounts for. */

export interface Effect {
  readonly changes: readonly Change[];
  /** Of the figure: after less before. */
  readonly effect: Amount;
}

/**
 * The changes between two sheets of figures, each with its share of the difference of one of them;
 * the shares add up to it exactly. The changes are made one after the other, and once more the other
 * way round, and each has the mean of what it moved: what two changes do together is halved between
 * them, as in Shapley's value (Shapley 1953, "A value for n-person games"), and whoever compares the
 * other way round gets the same shares with the other sign.
 *
 * Where some change has no answer without another, all are one.
 *
 * @param target id of a figure on both sides.
 */
export function effectsOn(
  target: string,
  before: readonly Figure[],
  after: readonly Figure[],
): readonly Effect[] {
  const pairs = pairsOf(before, after);
  const changes = changesOf(pairs);
  const values = (order: readonly Change[]): readonly Amount[] => inTurn(pairs, target, order);
  try {
    const there = steps(values(changes));
    const back = steps(values(changes.toReversed())).toReversed();
    return changes.map((change, index) => ({
      changes: [change],
      effect: there[index]!.plus(back[index]!).div(2),
    }));
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    const whole = (side: "before" | "after"): Amount => valueWhere(pairs, target, () => side);
    return [{ changes, effect: whole("after").minus(whole("before")) }];
  }
}

/** The target's value with none of the changes made, with the first, with the first two, ... */
function inTurn(pairs: Pairs, target: string, order: readonly Change[]): readonly Amount[] {
  const made = new Set<string>();
  const value = (): Amount =>
    valueWhere(pairs, target, (id) => (made.has(id) ? "after" : "before"));
  return [
    value(),
    ...order.map((change) => {
      for (const { id } of change.pairs) made.add(id);
      return value();
    }),
  ];
}

function steps(values: readonly Amount[]): readonly Amount[] {
  return values.slice(1).map((value, index) => value.minus(values[index]!));
}

/**
 * A figure with some changes made and some not.
 * @throws RangeError where it has no answer so.
 */
function valueWhere(
  pairs: Pairs,
  target: string,
  sideOf: (id: string) => "before" | "after",
): Amount {
  const known = new Map<string, Amount | null>();
  const value = (id: string): Amount => {
    const done = known.get(id);
    if (done) return done;
    const pair = pairs.get(id);
    if (pair === undefined || done === null) throw new RangeError(`"${id}" hangs in the air`);
    known.set(id, null);
    const found = valueOfOne(pair, pairs, sideOf, value);
    known.set(id, found);
    return found;
  };
  return value(target);
}

function valueOfOne(
  pair: Pair,
  pairs: Pairs,
  sideOf: (id: string) => "before" | "after",
  value: (id: string) => Amount,
): Amount {
  const sums = isReckonedAnew(pair) ? sumsOf(pair) : null;
  if (sums !== null) {
    // A summand of one side only comes and goes with its own change, one of both with the sum's.
    const counts = (side: "before" | "after") => (input: string) =>
      side === sideOf(isAlone(input, pairs) ? input : pair.id);
    const summands = [
      ...sums.both,
      ...sums.before.filter(counts("before")),
      ...sums.after.filter(counts("after")),
    ];
    return summands.reduce((sum, input) => sum.plus(value(input)), new Amount(0));
  }
  const is = isMoved(pair) || isReckonedAnew(pair) ? pair[sideOf(pair.id)] : null;
  const { origin, value: given } = (is ?? pair.after ?? pair.before)!;
  return origin.kind === "given" ? given : valueOf(origin.formula, origin.inputs.map(value));
}
