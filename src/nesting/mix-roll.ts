import type { FilledSheet } from "./filled.ts";
import { copiesOn, leastFilled, type Mixing } from "./mix-goal.ts";
import type { Outline } from "./outline.ts";
import { bestOf, judged, order, sheetsInOrder, triedOf, type Tried } from "./tried.ts";
import type { SheetChoice } from "./types.ts";

/** Lays so many copies of each shape on lengths of one roll; null where not all find room. */
export type LayOnRoll = (
  roll: SheetChoice,
  copies: readonly number[],
) => Generator<void, readonly FilledSheet[] | null, void>;

interface Rolling extends Pick<Mixing, "tried" | "mix"> {
  readonly label: string;
  readonly outlines: readonly Outline[];
  readonly choices: readonly SheetChoice[];
}

/**
 * What lies on the last sheets, laid on a roll instead: a roll is paid by what is used of it, so that
 * it goes well with sheets that are full. Of every complete nest of sheets the emptiest are given up,
 * one and then two, for each roll of the stock. Yields now and then; returns the best nest that is
 * better than all so far, judged, or null.
 */
export function* rollForLast(job: Rolling, lay: LayOnRoll): Generator<void, Tried | null, void> {
  const { tried, mix, outlines, choices } = job;
  const rolls = choices.filter(({ form }) => form === "roll");
  let best = bestOf(tried, mix);
  let found: Tried | null = null;
  if (best === null || rolls.length === 0) return null;
  for (const { filled, leftOver } of [...tried, ...(mix === null ? [] : [mix])]) {
    const { sheets } = filled;
    if (leftOver > 0 || sheets.some(({ choice }) => choice.form === "roll")) continue;
    for (let count = 1; count <= Math.min(MOST_GIVEN_UP, sheets.length - 1); count++) {
      const given = leastFilled(sheets, count);
      const kept = sheets.filter((_, index) => !given.has(index));
      const taken = sheets.filter((_, index) => given.has(index));
      const copies = outlines.map((_, shape) => copiesOn(taken, shape));
      for (const roll of rolls) {
        const laid = yield* lay(roll, copies);
        if (laid === null) continue;
        const all = sheetsInOrder(choices, [...kept, ...laid]);
        const now = triedOf(outlines, choices, { sheets: all, unplaced: [] });
        if (order(now, best) < 0) best = found = judged(job, now);
      }
    }
  }
  return found;
}

const MOST_GIVEN_UP = 2;
