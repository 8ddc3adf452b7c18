import type { Bed, Variant } from "./bed.ts";
import type { NoFitCache } from "./no-fit.ts";
import { forgetShape, layCopy, openSheet, type OpenSheet, type Preference } from "./open-sheet.ts";
import type { Random } from "./random.ts";
import type { Shape } from "./shapes.ts";
import type { Unplaced } from "./types.ts";

/** How one pass goes about it. */
export interface Plan {
  /** Indices of the shapes in the order in which all their copies are laid. */
  readonly order: readonly number[];
  readonly preference: Preference;
  /** For each shape the share of the ways to lay it that is kept, as a number to draw lots with. */
  readonly lots: readonly number[];
}

/** The first pass: large pieces first, each as low as it will go. */
export function firstPlan(shapes: readonly Shape[]): Plan {
  return {
    order: orderBy(shapes, ({ outerAreaMm2 }) => outerAreaMm2),
    preference: PREFERENCES[0]!,
    lots: shapes.map(() => 1),
  };
}

/** A later pass: another order near to that by size, another preference, some turns left out. */
export function variedPlan(shapes: readonly Shape[], step: number, random: Random): Plan {
  const size = SIZES[step % SIZES.length]!;
  const spread = SPREADS[step % SPREADS.length]!;
  const weights = shapes.map((shape) => size(shape) * Math.exp(spread * (2 * random() - 1)));
  const byShape = new Map(shapes.map((shape, index) => [shape, weights[index]!]));
  return {
    order: orderBy(shapes, (shape) => byShape.get(shape)!),
    preference: PREFERENCES[step % PREFERENCES.length]!,
    lots: shapes.map(() => (random() < KEEP_ALL_TURNS ? 1 : random())),
  };
}

const PREFERENCES: readonly Preference[] = [
  { axis: "y", end: 1 },
  { axis: "x", end: 1 },
  { axis: "y", end: 0.5 },
  { axis: "y", end: 0 },
  { axis: "x", end: 0.5 },
];
/** What "large" may mean. */
const SIZES: readonly ((shape: Shape) => number)[] = [
  ({ outerAreaMm2 }) => outerAreaMm2,
  ({ turns }) => longestSide(turns[0]!.box) ** 2,
];
/** How far, as a power of e, a shape's size may be misjudged to vary the order. */
const SPREADS: readonly number[] = [0, 0.3, 0.6, 1.2];
/** How often a shape keeps all ways to lay it. */
const KEEP_ALL_TURNS = 0.6;

function longestSide({ minX, minY, maxX, maxY }: Shape["turns"][number]["box"]): number {
  return Math.max(maxX - minX, maxY - minY);
}

/** Indices by falling size; equal ones as they came. */
function orderBy(shapes: readonly Shape[], size: (shape: Shape) => number): readonly number[] {
  return shapes
    .map((shape, index) => ({ index, size: size(shape) }))
    .sort((a, b) => b.size - a.size || a.index - b.index)
    .map(({ index }) => index);
}

export interface Filled {
  readonly sheets: readonly OpenSheet[];
  readonly unplaced: readonly Unplaced[];
}

/** Lays all copies, each on the first sheet that has room for it. */
export function fillSheets(
  shapes: readonly Shape[],
  bed: Bed,
  plan: Plan,
  cache: NoFitCache,
): Filled {
  const sheets: OpenSheet[] = [];
  const unplaced: Unplaced[] = [];
  for (const index of plan.order) {
    const shape = shapes[index]!;
    const variants = drawn(bed.variants[index]!, plan.lots[index]!);
    const { part, copies } = shape.piece;
    for (const sheet of sheets) forgetShape(sheet);
    let laid = 0;
    while (laid < copies && layOne(sheets, shape, index, variants, bed, plan, cache)) laid++;
    if (laid === copies) continue;
    const reason = variants.length === 0 ? TOO_LARGE : stockUsedUp(bed);
    unplaced.push({ part, copies: copies - laid, reason });
  }
  return { sheets, unplaced };
}

const TOO_LARGE = "larger than the sheet less its margin in every allowed turn";

function stockUsedUp({ choice: { form, onHand } }: Bed): string {
  const stock = form === "sheet" ? (onHand === 1 ? "sheet" : "sheets") : "m of roll";
  return `no room left on the ${onHand ?? 0} ${stock} on hand`;
}

/** Either all ways to lay it, or half of them beginning somewhere. */
function drawn(variants: readonly Variant[], lot: number): readonly Variant[] {
  if (lot === 1 || variants.length < 2) return variants;
  const start = Math.floor(lot * variants.length);
  const half = Math.ceil(variants.length / 2);
  return Array.from({ length: half }, (_, index) => variants[(start + index) % variants.length]!);
}

function layOne(
  sheets: OpenSheet[],
  shape: Shape,
  index: number,
  variants: readonly Variant[],
  bed: Bed,
  { preference }: Plan,
  cache: NoFitCache,
): boolean {
  if (variants.length === 0) return false;
  for (const sheet of sheets)
    if (!sheet.full && layCopy(sheet, shape, index, variants, preference, cache)) return true;
  const most = bed.choice.form === "roll" ? 1 : (bed.choice.onHand ?? Infinity);
  if (sheets.length >= most) return false;
  const sheet = openSheet(bed);
  sheets.push(sheet);
  return layCopy(sheet, shape, index, variants, preference, cache);
}
