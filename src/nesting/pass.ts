import type { Bed, Way } from "./bed.ts";
import { unplacedOf } from "./left-over.ts";
import type { NoFitCache } from "./no-fit.ts";
import {
  forgetShape,
  layCopies,
  openSheet,
  prepare,
  type OpenSheet,
  type Preference,
} from "./open-sheet.ts";
import { MOST_WAYS, type Plan } from "./plan.ts";
import type { Shape } from "./shapes.ts";
import type { Filled } from "./filled.ts";
import { lengthLeft, mostLength, mostSheets, sheetLength } from "./lengths.ts";
import type { SheetChoice } from "./types.ts";

/**
 * Lays all copies, each on the first sheet that has room for it. Yields how many copies have been
 * seen to, often: before each of them and within. Null when more than `worthwhile`
 * sheets would be needed.
 */
export function* fillSheets(
  shapes: readonly Shape[],
  bed: Bed,
  plan: Plan,
  cache: NoFitCache,
  worthwhile = Infinity,
): Generator<number, Filled | null, void> {
  const sheets: OpenSheet[] = [];
  const left = shapes.map(() => 0);
  const lists = shapes.map((_, shape) => listsFor(bed, plan, shape));
  const filling: Filling = { sheets, shapes, bed, plan, cache };
  let seen = 0;
  for (const batch of plan.batches) {
    for (const sheet of sheets) forgetShape(sheet);
    let togo = batch.copies;
    while (togo > 0) {
      yield seen;
      const laid = yield* layNext(filling, batch.shape, lists[batch.shape]!, togo, seen);
      if (sheets.length > worthwhile) return null;
      if (laid === 0) break;
      togo -= laid;
      seen += laid;
    }
    seen += togo;
    left[batch.shape] = left[batch.shape]! + togo;
  }
  const fits = bed.singles.map(({ length }) => length > 0);
  return { sheets, unplaced: unplacedOf(shapes, bed.choice, left, fits) };
}

/** The ways to lay a shape in a pass, in the order that sheets are asked for room. */
interface Lists {
  readonly couples: readonly Way[];
  readonly singles: readonly Way[];
}

/** The plan's turns where any of them fits the sheet, else all that do. */
function listsFor(bed: Bed, { turns, couples }: Plan, shape: number): Lists {
  const all = bed.singles[shape]!;
  const planned = all.filter(({ members }) => turns[shape]!.has(members[0]!.variant.number));
  return {
    couples: couples ? bed.couples[shape]! : [],
    singles: planned.length > 0 ? planned : all.slice(0, MOST_WAYS),
  };
}

/** A pass under way. */
interface Filling {
  readonly sheets: OpenSheet[];
  readonly shapes: readonly Shape[];
  readonly bed: Bed;
  readonly plan: Plan;
  readonly cache: NoFitCache;
}

/** Lays a couple or a single copy; 0 when there is no room for either. */
function* layNext(
  { sheets, shapes, bed, plan, cache }: Filling,
  index: number,
  { couples, singles }: Lists,
  togo: number,
  seen: number,
): Generator<number, number, void> {
  const { preference, whim, random } = plan;
  if (singles.length === 0) return 0;
  const shape = shapes[index]!;
  const roll = bed.choice.form === "roll";
  // A roll is filled from its end: to the left would be along all of its length.
  const wish: Preference = roll ? { ...preference, axis: "y" } : preference;
  const lay = (sheet: OpenSheet, ways: readonly Way[]): number =>
    layCopies(sheet, shape, index, ways, wish, cache);
  const drawn = random() < whim ? [singles[Math.floor(random() * singles.length)]!] : [];
  const coupled = togo > 1 ? couples : [];
  const lists = [coupled, drawn, singles].filter(({ length }) => length > 0);
  for (const ways of lists) {
    for (const sheet of sheets.filter(({ fullFor }) => !fullFor.has(ways))) {
      for (const way of ways) for (const _ of prepare(sheet, shape, way, cache)) yield seen;
      shorten(sheet, sheets, bed.choice);
      const laid = lay(sheet, ways);
      if (laid > 0) return laid;
      if (ways !== drawn) sheet.fullFor.add(ways);
      yield seen;
    }
  }
  if (sheets.length >= mostSheets(bed.choice)) return 0;
  const sheet = openSheet(bed);
  shorten(sheet, sheets, bed.choice);
  for (const ways of lists) {
    const laid = lay(sheet, ways);
    if (laid === 0) continue;
    sheets.push(sheet);
    return laid;
  }
  return 0;
}

/** All lengths of a roll together are no more than there is of it. */
function shorten(sheet: OpenSheet, sheets: readonly OpenSheet[], choice: SheetChoice): void {
  if (choice.form === "sheet" || choice.longestMm === null || choice.onHand === null) return;
  const others = sheets.filter((other) => other !== sheet);
  const cutMm = others.reduce((sum, { usedMm }) => sum + sheetLength(choice, usedMm), 0);
  sheet.shortMm = Math.max(0, mostLength(choice) - lengthLeft(choice, cutMm));
}
