import type { FigureRecord } from "../estimate-data.ts";
import { valueOf } from "../formulas.ts";
import { Amount } from "../money.ts";
import { figureOf } from "../pricing/figure-record.ts";

/** What of a cost comes once, however many pieces are made: design, set-up, delivery. */

/** Given figures that are not the same for all numbers of pieces; null for one number alone. */
export function varyingFigures(
  estimates: readonly { readonly figures: readonly FigureRecord[] }[],
): ReadonlySet<string> | null {
  if (estimates.length < 2) return null;
  const values = new Map<string, string[]>();
  for (const { figures } of estimates)
    for (const { id, origin, value } of figures)
      if (origin.kind === "given") values.set(id, [...(values.get(id) ?? []), value]);
  return new Set(
    [...values].flatMap(([id, its]) =>
      its.length < estimates.length || its.some((value) => value !== its[0]) ? [id] : [],
    ),
  );
}

/**
 * The direct cost with nothing of what the number of pieces brings: its figures at 0, and what has no
 * answer then, such as how quickly nobody learns, at 0 too.
 */
export function costOnce(records: readonly FigureRecord[], varying: ReadonlySet<string>): Amount {
  const values = new Map<string, Amount>();
  for (const { id, origin, value } of records.map(figureOf)) {
    const nothing = new Amount(0);
    if (origin.kind === "given") values.set(id, varying.has(id) ? nothing : value);
    else {
      const inputs = origin.inputs.map((input) => values.get(input) ?? nothing);
      values.set(id, answerOf(() => valueOf(origin.formula, inputs)) ?? nothing);
    }
  }
  return values.get("cost.direct") ?? new Amount(0);
}

/** Null where there is none. */
function answerOf(work: () => Amount): Amount | null {
  try {
    const answer = work();
    return answer.isFinite() ? answer : null;
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}
