import { Amount } from "../money.ts";
import type { Progress, Work } from "../work.ts";
import { bedOf, stepFor, type Bed } from "./bed.ts";
import { JudgementError, judge } from "./check.ts";
import type { Placed } from "./columns.ts";
import { costBound } from "./cost-bound.ts";
import { NoFitCache } from "./no-fit.ts";
import type { OpenSheet } from "./open-sheet.ts";
import { fillSheets, type Filled } from "./pass.ts";
import { planFor, type Plan } from "./plan.ts";
import { randomFrom } from "./random.ts";
import { shapesOf, type Shape } from "./shapes.ts";
import type { Nest, NestedSheet, NestOutcome, NestPiece, SheetChoice } from "./types.ts";

/** How hard to try, and what the passes after the first draw their lots from. */
export interface NestOptions {
  readonly seed: number;
  /** Rounds over all sizes, 1 or more. */
  readonly steps: number;
}

/**
 * Nests pieces of one material and thickness on each size of sheet in turn and names the cheapest.
 * A round makes one pass over every size: a bottom-left fill, the first with large pieces first, the
 * later ones varied by lot. After the first round, sizes that certainly cost more than the cheapest
 * found rest: their nests stay for comparison.
 *
 * Progress is counted in copies seen to; it comes after every few of them, and `best` in it is the
 * outcome of the last whole round. Told to finish early, at any time, it does so with that, but
 * never before the first round is whole, so that `steps` of the outcome makes the same outcome again.
 *
 * @throws JudgementError when a nest breaks a rule: a fault of the search.
 * @throws RangeError for `steps` below 1.
 */
export function* nestPieces(
  label: string,
  pieces: readonly NestPiece[],
  choices: readonly SheetChoice[],
  { seed, steps }: NestOptions,
): Work<NestOutcome> {
  if (!(steps >= 1)) throw new RangeError(`nesting needs 1 step or more, not ${steps}`);
  const bound = choices.length === 0 ? new Amount(0) : costBound(pieces, choices);
  let outcome = outcomeOf([], bound, 0, seed);
  if (choices.length === 0) return outcome;
  const each = copiesPerPass(pieces);
  const of = steps * choices.length * each;
  const report = (done: number): Progress<NestOutcome> => ({
    stage: `nesting ${label}`,
    done,
    of,
    best: outcome.steps === 0 ? null : outcome,
  });
  let finish = (yield report(0)) === true;
  const shapes = shapesOf(pieces);
  const sizes: Size[] = [];
  for (const size of sizesOf(shapes, pieces, choices)) {
    sizes.push(size);
    if ((yield report(0)) === true) finish = true;
  }
  let tried: readonly Tried[] = [];
  for (let step = 0; step < steps; step++) {
    // Each round draws its lots anew, so that it does not matter how many came before.
    const plan = planFor(shapes, step, randomFrom(Math.imul(seed, SEED_STRIDE) + step));
    const round: Tried[] = [];
    for (const [index, size] of sizes.entries()) {
      const before = (step * sizes.length + index) * each;
      const pass = passOver(label, shapes, size, plan, tried[index] ?? null, outcome.best);
      let turn = pass.next();
      for (; turn.done !== true; turn = pass.next()) {
        if ((yield report(before + turn.value)) === true) finish = true;
        if (finish && step > 0) return outcome;
      }
      round.push(turn.value);
      if (round.length === sizes.length) {
        tried = round;
        outcome = outcomeOf(tried, bound, step + 1, seed);
      }
      if ((yield report(before + each)) === true) finish = true;
      if (finish && outcome.steps > 0) return outcome;
    }
  }
  return outcome;
}

/** Units of progress that a pass over one size counts; 1 when there is nothing to nest. */
export function copiesPerPass(pieces: readonly Pick<NestPiece, "copies">[]): number {
  return Math.max(
    1,
    pieces.reduce((sum, { copies }) => sum + copies, 0),
  );
}

/** A size of sheet with what its passes share. */
interface Size {
  readonly bed: Bed;
  readonly cache: NoFitCache;
  /** No nest on sheets of this size alone costs less. */
  readonly bound: Amount;
}

/** One size after the other, for each takes a while. */
function* sizesOf(
  shapes: readonly Shape[],
  pieces: readonly NestPiece[],
  choices: readonly SheetChoice[],
): Generator<Size, void, void> {
  const stepMm = stepFor(shapes, choices);
  const caches = new Map(choices.map(({ gapMm }) => [gapMm, new NoFitCache()]));
  for (const choice of choices) {
    const cache = caches.get(choice.gapMm)!;
    const bed = bedOf(choice, shapes, stepMm, cache);
    yield { bed, cache, bound: costBound(pieces, [choice]) };
  }
}

/** One pass over a size, judged, or what was before where that is no worse. Yields copies seen to. */
function* passOver(
  label: string,
  shapes: readonly Shape[],
  { bed, cache, bound }: Size,
  plan: Plan,
  before: Tried | null,
  best: Nest | null,
): Generator<number, Tried, void> {
  const most = before === null ? Infinity : worthwhileSheets(before.nest, best, bound);
  if (before !== null && most === 0) return before;
  const filled = yield* fillSheets(shapes, bed, plan, cache, most);
  const now = filled === null ? null : triedOf(shapes, bed, filled);
  if (before !== null && (now === null || order(before, now) <= 0)) return before;
  return judged(
    label,
    shapes.map(({ piece }) => piece),
    now!,
  );
}

/** On more sheets than this a size can not win, neither the choice of sizes nor over its last nest. */
function worthwhileSheets({ choice, sheets }: Nest, best: Nest | null, bound: Amount): number {
  if (best === null) return Infinity;
  if (choice.id === best.choice.id) return choice.form === "sheet" ? sheets.length : 1;
  if (bound.gte(best.sheetCost)) return 0;
  if (choice.form === "roll") return 1;
  return best.sheetCost.div(choice.price).ceil().toNumber() - 1;
}

/** An odd number that sets neighbouring seeds far apart. */
const SEED_STRIDE = 0x9e3779b1;

/** A nest with what it is compared by. */
interface Tried {
  readonly nest: Nest;
  readonly leftOver: number;
  /** Upwards on the last sheet, mm. */
  readonly lastUsedMm: number;
}

/** Fewer left over, then cheaper, then less used of the last sheet: negative when `a` is better. */
function order(a: Tried, b: Tried): number {
  return (
    a.leftOver - b.leftOver || a.nest.sheetCost.cmp(b.nest.sheetCost) || a.lastUsedMm - b.lastUsedMm
  );
}

function outcomeOf(
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

function judged(label: string, pieces: readonly NestPiece[], tried: Tried): Tried {
  const { choice, sheets, unplaced } = tried.nest;
  const faults = judge(pieces, choice, sheets, unplaced);
  if (faults.length > 0) throw new JudgementError(label, faults);
  return tried;
}

function triedOf(shapes: readonly Shape[], bed: Bed, { sheets, unplaced }: Filled): Tried {
  const { choice } = bed;
  const copies = shapes.map(() => 0);
  const nested = sheets.map(({ placed }): NestedSheet => ({
    sheet: choice.id,
    widthMm: choice.widthMm,
    heightMm: choice.heightMm ?? wholeLength(usedHeight(placed, shapes) + choice.marginMm),
    placements: placed.map(({ shape, variant, x, y }) => ({
      part: shapes[shape]!.piece.part,
      copy: (copies[shape] = copies[shape]! + 1),
      turnDeg: variant.turnDeg,
      mirrored: variant.mirrored,
      xMm: x,
      yMm: y,
    })),
  }));
  return {
    nest: {
      choice,
      sheets: nested,
      unplaced,
      sheetCost: sheetCost(choice, nested),
      utilisation: utilisation(sheets, nested, shapes),
    },
    leftOver: unplaced.reduce((sum, each) => sum + each.copies, 0),
    lastUsedMm: usedHeight(sheets.at(-1)?.placed ?? [], shapes),
  };
}

/** From the lower edge to the far end of the highest piece. */
function usedHeight(placed: readonly Placed[], shapes: readonly Shape[]): number {
  return placed.reduce((most, { shape, variant, y }) => {
    const { flatteningMm } = shapes[shape]!.piece;
    return Math.max(most, y + variant.box.maxY + flatteningMm);
  }, 0);
}

/** Rolls are cut to whole thousandths of a mm, so that prices do not carry rounding errors. */
function wholeLength(lengthMm: number): number {
  return Math.ceil((lengthMm - LENGTH_ROUNDING_MM) * LENGTHS_PER_MM) / LENGTHS_PER_MM;
}

const LENGTHS_PER_MM = 1000;
/** So that 250 mm and a rounding error is 250 mm; a tenth of what the judge sees. */
const LENGTH_ROUNDING_MM = 1e-7;
const MM_PER_M = 1000;

function sheetCost({ form, price }: SheetChoice, sheets: readonly NestedSheet[]): Amount {
  if (form === "sheet") return price.times(sheets.length);
  return sheets.reduce(
    (sum, { heightMm }) => sum.plus(price.times(heightMm).div(MM_PER_M)),
    new Amount(0),
  );
}

function utilisation(
  sheets: readonly OpenSheet[],
  nested: readonly NestedSheet[],
  shapes: readonly Shape[],
): number {
  const placedMm2 = sheets
    .flatMap(({ placed }) => placed)
    .reduce((sum, { shape }) => sum + shapes[shape]!.areaMm2, 0);
  const usedMm2 = nested.reduce((sum, { widthMm, heightMm }) => sum + widthMm * heightMm, 0);
  return usedMm2 === 0 ? 0 : placedMm2 / usedMm2;
}
