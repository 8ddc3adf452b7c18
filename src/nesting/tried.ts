import { Amount } from "../money.ts";
import { JudgementError, judge } from "./check.ts";
import type { Filled, FilledSheet } from "./filled.ts";
import { sheetLength } from "./lengths.ts";
import type { Outline } from "./outline.ts";
import { sheetArea } from "../geometry/sheet-area.ts";
import type { Nest, NestedSheet, NestOutcome, SheetChoice } from "./types.ts";

/** A nest with what it is compared by. */
export interface Tried {
  readonly nest: Nest;
  /** The same as the search has it. */
  readonly filled: Filled;
  readonly leftOver: number;
  /** The largest rectangle that is known to be free on the last sheet; 0 for a roll or an odd shape. */
  readonly freeMm2: number;
}

/**
 * Fewer left over, then cheaper, then fewer sheets, then more left of the last one: negative when `a`
 * is better.
 */
export function order(a: Tried, b: Tried): number {
  return (
    a.leftOver - b.leftOver ||
    a.nest.sheetCost.cmp(b.nest.sheetCost) ||
    a.nest.sheets.length - b.nest.sheets.length ||
    b.freeMm2 - a.freeMm2
  );
}

/**
 * @param bySize of each size bought.
 * @param mix of several sizes, or with offcuts.
 * @param boughtMix of several sizes bought.
 */
export function outcomeOf(
  bySize: readonly Tried[],
  mix: Tried | null,
  boughtMix: Tried | null,
  costBound: Amount,
  steps: number,
  seed: number,
): NestOutcome {
  const sorted = [...bySize].sort(order);
  const best = bestOf(bySize, mix);
  const mixed = best !== null && best === mix && best.nest.sheets.length > 0 ? best.nest : null;
  const beside =
    mixed !== null && boughtMix !== mix && bestOf(bySize, boughtMix) === boughtMix
      ? boughtMix
      : null;
  return {
    best: best !== null && best.leftOver === 0 ? best.nest : null,
    bySize: sorted.map(({ nest }) => nest),
    mix: mixed,
    boughtMix: beside?.nest ?? null,
    costBound,
    steps,
    seed,
  };
}

/** Whether it takes sheets of several sizes, or offcuts. */
export function isMix(tried: Tried): boolean {
  return tried.nest.choices.length > 1 || takesOffcuts(tried);
}

export function takesOffcuts({ nest: { choices } }: Tried): boolean {
  return choices.some(({ offcut }) => offcut === true);
}

/** The first of the best, complete or not. */
export function bestOf(bySize: readonly Tried[], mix: Tried | null): Tried | null {
  const all = mix === null ? bySize : [...bySize, mix];
  return all.reduce<Tried | null>(
    (best, one) => (best === null || order(one, best) < 0 ? one : best),
    null,
  );
}

/** What was tried, when the judge finds nothing wrong with it. */
export function judged(
  { label, outlines }: { readonly label: string; readonly outlines: readonly Outline[] },
  tried: Tried,
): Tried {
  const { choices, sheets, unplaced } = tried.nest;
  const pieces = outlines.map(({ piece }) => piece);
  const faults = judge(pieces, choices, sheets, unplaced);
  if (faults.length > 0) throw new JudgementError(label, faults);
  return tried;
}

/** @param choices that the sheets may be of. */
export function triedOf(
  outlines: readonly Outline[],
  choices: readonly SheetChoice[],
  filled: Filled,
): Tried {
  const { sheets, unplaced } = filled;
  const copies = outlines.map(() => 0);
  const areas = new Map(outlines.map(({ piece, areaMm2 }) => [piece.part, areaMm2]));
  const nested = sheets.map(({ choice, placed, usedMm }): NestedSheet => ({
    sheet: choice.id,
    widthMm: choice.widthMm,
    heightMm: sheetLength(choice, usedMm),
    ...(choice.outline === undefined ? {} : { outline: choice.outline.region }),
    placements: placed.map(({ shape, variant, x, y }) => ({
      part: outlines[shape]!.piece.part,
      copy: (copies[shape] = copies[shape]! + 1),
      turnDeg: variant.turnDeg,
      mirrored: variant.mirrored,
      xMm: x,
      yMm: y,
    })),
  }));
  const taken = choices.filter((choice) => sheets.some((sheet) => sheet.choice === choice));
  const used = taken.length === 0 ? choices : taken;
  return {
    filled,
    nest: {
      choices: used,
      sheets: nested,
      unplaced,
      sheetCost: used.reduce((sum, choice) => {
        const its = nested.filter((_, index) => sheets[index]!.choice === choice);
        return sum.plus(costOfAll(choice, its));
      }, new Amount(0)),
      utilisation: utilisation(nested, areas),
      utilisations: used.map(({ id }) =>
        utilisation(
          nested.filter(({ sheet }) => sheet === id),
          areas,
        ),
      ),
    },
    leftOver: unplaced.reduce((sum, each) => sum + each.copies, 0),
    freeMm2: sheets.length === 0 ? 0 : freeAbove(sheets.at(-1)!),
  };
}

/** Sheets of one choice after the other, in the order of the choices. */
export function sheetsInOrder(
  choices: readonly SheetChoice[],
  sheets: readonly FilledSheet[],
): readonly FilledSheet[] {
  return choices.flatMap((choice) => sheets.filter((sheet) => sheet.choice === choice));
}

/** Over the highest piece, from side to side, mm2: below 0 where not even the gap to it is left. */
function freeAbove({ choice, usedMm }: FilledSheet): number {
  const { widthMm, heightMm, marginMm, gapMm, outline } = choice;
  if (heightMm === null || outline !== undefined) return 0;
  return (widthMm - 2 * marginMm) * (heightMm - marginMm - usedMm - gapMm);
}

const MM_PER_M = 1000;

/** Of sheets of one choice: of panels the bought sheets that they are sawn from. */
export function costOfAll(
  choice: SheetChoice,
  sheets: readonly Pick<NestedSheet, "heightMm">[],
): Amount {
  if (choice.form === "sheet") return choice.price.times(boughtOf(choice, sheets.length));
  return sheets.reduce((sum, sheet) => sum.plus(costOf(choice, sheet)), new Amount(0));
}

/** Sheets to be bought for so many sheets or panels. */
export function boughtOf({ panels = 1 }: Pick<SheetChoice, "panels">, count: number): number {
  return Math.ceil(count / panels);
}

/** Price of a sheet, of its share in a panel, or of a length of roll. */
export function costOf(
  { form, price, panels = 1 }: SheetChoice,
  { heightMm }: Pick<NestedSheet, "heightMm">,
): Amount {
  return form === "sheet" ? price.div(panels) : price.times(heightMm).div(MM_PER_M);
}

/** @param areasMm2 by part. */
function utilisation(
  sheets: readonly NestedSheet[],
  areasMm2: ReadonlyMap<string, number>,
): number {
  const placedMm2 = sheets
    .flatMap(({ placements }) => placements)
    .reduce((sum, { part }) => sum + areasMm2.get(part)!, 0);
  const usedMm2 = sheets.reduce((sum, sheet) => sum + sheetArea(sheet), 0);
  return usedMm2 === 0 ? 0 : placedMm2 / usedMm2;
}
