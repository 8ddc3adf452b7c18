import type { Amount } from "../money.ts";
import { costBound } from "./cost-bound.ts";
import { jigsawSearch, type JigsawSearch } from "./jigsaw/search.ts";
import { Meter } from "./meter.ts";
import type { Mixing } from "./mix-goal.ts";
import type { Packing } from "./mix-packing.ts";
import { inOrder } from "./order.ts";
import { outlineOf } from "./outline.ts";
import { rectangleSearches, type RectangleSearch } from "./rectangles/searches.ts";
import type { Aide } from "./separation/lanes.ts";
import { KeptModel } from "./separation/model.ts";
import { prepared, type Nested, type Ready } from "./size.ts";
import { isMix, order, takesOffcuts, type Tried } from "./tried.ts";
import type { NestPiece, SheetChoice } from "./types.ts";

/** One material and thickness, with what its rounds share. */
export interface NestJob extends Nested, Mixing, Packing {
  readonly stocks: number;
  /** Those bought come first. */
  readonly choices: readonly SheetChoice[];
  readonly bought: number;
  /** Of each size bought, then of all sheets together; null where pieces are of other shapes. */
  readonly rectangles: readonly RectangleSearch[] | null;
  /** Of each size bought; null where the pieces can not fill its sheets without waste. */
  readonly jigsaws: readonly (JigsawSearch | null)[];
  readonly preparing: Generator<void, Ready, void>;
  /** Of what each choice costs alone. */
  readonly bounds: readonly Amount[];
  /** Null until it has been prepared. */
  ready: Ready | null;
  passes: number;
  tried: readonly Tried[];
  mix: Tried | null;
  /** The best of several sizes without offcuts. */
  boughtMix: Tried | null;
  /** As `attempts`, of sizes bought alone. */
  readonly boughtAttempts: Map<string, number>;
}

interface Given {
  /** Of what all choices together cost. */
  readonly bound: Amount;
  readonly seed: number;
  readonly stocks: number;
  readonly aide: Aide | null;
}

export function jobOf(
  label: string,
  pieces: readonly NestPiece[],
  choices: readonly SheetChoice[],
  { bound, seed, stocks, aide }: Given,
): NestJob {
  const meter = new Meter();
  const outlines = inOrder(pieces.map(outlineOf));
  const bought = choices.filter(({ offcut }) => offcut !== true);
  const sorted = [...bought, ...choices.filter(({ offcut }) => offcut === true)];
  const ordered = outlines.map(({ piece }) => piece);
  const bounds = sorted.map((choice) => costBound(ordered, [choice]));
  return {
    label,
    stocks,
    outlines,
    choices: sorted,
    bought: bought.length,
    meter,
    aide,
    closingShare: 1 / (stocks * Math.max(1, bought.length)),
    bounds,
    rectangles: rectangleSearches(outlines, sorted, [...bounds, bound], seed),
    jigsaws: bought.map((choice) => jigsawSearch(outlines, choice, seed)),
    preparing: prepared(outlines, sorted, bounds, meter, seed),
    ready: null,
    passes: 0,
    tried: [],
    mix: null,
    attempts: new Map(),
    boughtMix: null,
    boughtAttempts: new Map(),
    packed: new Map(),
    packingModel: new KeptModel(),
  };
}

/** The nest where it is better than the one before of the same kind. */
export function keep(job: NestJob, found: Tried): void {
  const { sheets, choices } = found.nest;
  if (sheets.length === 0) return;
  if (isMix(found)) {
    job.mix = betterOf(found, job.mix);
    if (!takesOffcuts(found)) job.boughtMix = betterOf(found, job.boughtMix);
    return;
  }
  const size = job.choices.indexOf(choices[0]!);
  if (order(found, job.tried[size]!) >= 0) return;
  job.tried = job.tried.with(size, found);
  if (job.ready !== null) job.ready.sizes[size]!.lanes = null;
}

function betterOf(found: Tried, before: Tried | null): Tried {
  return before === null || order(found, before) < 0 ? found : before;
}
