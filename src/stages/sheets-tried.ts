import type { MixTried, SheetsTried, SheetsUsed, SizeTried } from "../estimate-data.ts";
import type { Amount } from "../money.ts";
import { boughtOf, costOfAll } from "../nesting/tried.ts";
import type { Nest, NestOutcome } from "../nesting/types.ts";
import { leftoverFor } from "./leftovers.ts";
import { piecesOf } from "./stock-groups.ts";
import type { StockGroup } from "./stock-groups.ts";

/** What was tried on a group's sheets, as plain records. */

/** A group with everything tried on it. */
export interface NestedGroup {
  readonly group: StockGroup;
  readonly outcome: NestOutcome;
  /** The sheets to take where they are not the cheapest; not given where they are. */
  readonly chosen?: Nest;
}

/** All nests that were tried and kept. */
export function nestsTried({ outcome: { mix, boughtMix, bySize } }: NestedGroup): readonly Nest[] {
  return [...[mix, boughtMix].filter((nest) => nest !== null), ...bySize];
}

/** The nest to show: that chosen, the one with the cheapest sheets unless said, else the one that leaves least unplaced. */
export function chosenNest({ outcome, chosen }: NestedGroup): Nest | null {
  const { best, bySize, mix } = outcome;
  if (chosen !== undefined) return chosen;
  if (best !== null) return best;
  return [...bySize, ...(mix === null ? [] : [mix])].reduce<Nest | null>(
    (most, nest) => (most === null || copiesLeft(nest) < copiesLeft(most) ? nest : most),
    null,
  );
}

function copiesLeft({ unplaced }: Nest): number {
  return unplaced.reduce((sum, { copies }) => sum + copies, 0);
}

export function sizeTried(nested: NestedGroup, nest: Nest): SizeTried {
  const { id, widthMm, heightMm, panels = 1 } = nest.choices[0]!;
  return { sheet: id, widthMm, heightMm, panels, ...sheetsTried(nested, nest) };
}

export function mixTried(nested: NestedGroup, nest: Nest | null): MixTried | null {
  return nest === null ? null : { used: sheetsUsed(nest), ...sheetsTried(nested, nest) };
}

export function sheetsTried(nested: NestedGroup, nest: Nest): SheetsTried {
  const { sheetCost, utilisation, unplaced } = nest;
  return {
    sheets: sheetsUsed(nest).reduce((sum, { bought }) => sum + bought, 0),
    cost: sheetCost.toString(),
    utilisation,
    leftover: leftoverFor(piecesOf(nested.group, 1), nest),
    gapPercent: gapPercent(nest, nested.outcome.costBound),
    complete: unplaced.length === 0,
    chosen: nest === chosenNest(nested),
  };
}

const PERCENT = 100;

/** How far the cost is above the bound; null where some copy has no place, or nothing to compare with. */
function gapPercent({ unplaced, sheetCost }: Nest, bound: Amount): number | null {
  if (unplaced.length > 0) return null;
  if (sheetCost.eq(bound)) return 0;
  return bound.isZero() ? null : sheetCost.minus(bound).times(PERCENT).div(bound).toNumber();
}

/** What a nest takes of each size. */
export function sheetsUsed({ choices, sheets }: Nest): readonly SheetsUsed[] {
  return choices.map((choice) => {
    const { id, form, widthMm, heightMm, marginMm, gapMm, offcut = false, panels = 1 } = choice;
    const its = sheets.filter(({ sheet }) => sheet === id);
    return {
      sheet: id,
      form,
      widthMm,
      heightMm,
      marginMm,
      gapMm,
      offcut,
      count: its.length,
      panels,
      bought: form === "sheet" ? boughtOf(choice, its.length) : its.length,
      lengthMm: form === "sheet" ? null : its.reduce((sum, sheet) => sum + sheet.heightMm, 0),
      cost: costOfAll(choice, its).toString(),
    };
  });
}
