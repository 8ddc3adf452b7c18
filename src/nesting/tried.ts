import { Amount } from "../money.ts";
import { JudgementError, judge } from "./check.ts";
import type { Filled, FilledSheet } from "./filled.ts";
import { sheetLength } from "./lengths.ts";
import type { Outline } from "./outline.ts";
import type { Nest, NestedSheet, NestOutcome, SheetChoice } from "./types.ts";

/** A nest with what it is compared by. */
export interface Tried {
  readonly nest: Nest;
  /** The same as the search has it. */
  readonly filled: Filled;
  readonly leftOver: number;
  /** Upwards on the last sheet, mm. */
  readonly lastUsedMm: number;
}

/** Fewer left over, then cheaper, then less used of the last sheet: negative when `a` is better. */
export function order(a: Tried, b: Tried): number {
  return (
    a.leftOver - b.leftOver || a.nest.sheetCost.cmp(b.nest.sheetCost) || a.lastUsedMm - b.lastUsedMm
  );
}

export function outcomeOf(
  tried: readonly Tried[],
  costBound: Amount,
  steps: number,
  seed: number,
): NestOutcome {
  const sorted = [...tried].sort(order);
  const cheapest = sorted[0];
  const best = cheapest !== undefined && cheapest.leftOver === 0 ? cheapest.nest : null;
  return { best, bySize: sorted.map(({ nest }) => nest), costBound, steps, seed };
}

/** What was tried, when the judge finds nothing wrong with it. */
export function judged(
  { label, outlines }: { readonly label: string; readonly outlines: readonly Outline[] },
  tried: Tried,
): Tried {
  const { choice, sheets, unplaced } = tried.nest;
  const pieces = outlines.map(({ piece }) => piece);
  const faults = judge(pieces, choice, sheets, unplaced);
  if (faults.length > 0) throw new JudgementError(label, faults);
  return tried;
}

export function triedOf(outlines: readonly Outline[], choice: SheetChoice, filled: Filled): Tried {
  const { sheets, unplaced } = filled;
  const copies = outlines.map(() => 0);
  const nested = sheets.map(({ placed, usedMm }): NestedSheet => ({
    sheet: choice.id,
    widthMm: choice.widthMm,
    heightMm: sheetLength(choice, usedMm),
    placements: placed.map(({ shape, variant, x, y }) => ({
      part: outlines[shape]!.piece.part,
      copy: (copies[shape] = copies[shape]! + 1),
      turnDeg: variant.turnDeg,
      mirrored: variant.mirrored,
      xMm: x,
      yMm: y,
    })),
  }));
  return {
    filled,
    nest: {
      choice,
      sheets: nested,
      unplaced,
      sheetCost: sheetCost(choice, nested),
      utilisation: utilisation(sheets, nested, outlines),
    },
    leftOver: unplaced.reduce((sum, each) => sum + each.copies, 0),
    lastUsedMm: sheets.at(-1)?.usedMm ?? 0,
  };
}

const MM_PER_M = 1000;

function sheetCost({ form, price }: SheetChoice, sheets: readonly NestedSheet[]): Amount {
  if (form === "sheet") return price.times(sheets.length);
  return sheets.reduce(
    (sum, { heightMm }) => sum.plus(price.times(heightMm).div(MM_PER_M)),
    new Amount(0),
  );
}

function utilisation(
  sheets: readonly FilledSheet[],
  nested: readonly NestedSheet[],
  outlines: readonly Outline[],
): number {
  const placedMm2 = sheets
    .flatMap(({ placed }) => placed)
    .reduce((sum, { shape }) => sum + outlines[shape]!.areaMm2, 0);
  const usedMm2 = nested.reduce((sum, { widthMm, heightMm }) => sum + widthMm * heightMm, 0);
  return usedMm2 === 0 ? 0 : placedMm2 / usedMm2;
}
