import type { Bed, Way } from "./bed.ts";
import { unplacedOf } from "./unplaced.ts";
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
import { lengthLeft, mostLength, sheetLength } from "./lengths.ts";

/** Sheets of one size that a pass may open. */
export interface Offer {
  readonly bed: Bed;
  readonly cache: NoFitCache;
  readonly most: number;
}

/** When a pass is not worth going on with. */
export interface Limits {
  /** When it needs more sheets. */
  readonly sheets?: number;
  /** As soon as a copy finds no place. */
  readonly whole?: boolean;
}

/**
 * Lays all copies, each on the first sheet that has room for it; where none has, a new one is opened:
 * of the first offer that takes it and is not used up. Yields how many copies have been seen to,
 * often: before each of them and within. Null when it is broken off at its limits.
 */
export function* fillSheets(
  shapes: readonly Shape[],
  offers: readonly Offer[],
  plan: Plan,
  { sheets: most = Infinity, whole = false }: Limits = {},
): Generator<number, Filled | null, void> {
  const sheets: Opened[] = [];
  const left = shapes.map(() => 0);
  const filling: Filling = { sheets, shapes, offers, plan, lists: new Map() };
  let seen = 0;
  for (const batch of plan.batches) {
    for (const { sheet } of sheets) forgetShape(sheet);
    let togo = batch.copies;
    while (togo > 0) {
      yield seen;
      const laid = yield* layNext(filling, batch.shape, togo, seen);
      if (sheets.length > most || (laid === 0 && whole)) return null;
      if (laid === 0) break;
      togo -= laid;
      seen += laid;
    }
    seen += togo;
    left[batch.shape] = left[batch.shape]! + togo;
  }
  const fits = shapes.map((_, shape) => offers.some(({ bed }) => bed.singles[shape]!.length > 0));
  const choices = offers.map(({ bed }) => bed.choice);
  return {
    sheets: sheets.map(({ sheet: { choice, placed, standing, usedMm } }) => ({
      choice,
      placed: placed.slice(standing),
      usedMm,
    })),
    unplaced: unplacedOf(shapes, choices, left, fits),
  };
}

/** The ways to lay a shape in a pass, in the order that sheets are asked for room. */
interface Lists {
  readonly couples: readonly Way[];
  readonly singles: readonly Way[];
}

/** A pass under way. */
interface Filling {
  readonly sheets: Opened[];
  readonly shapes: readonly Shape[];
  readonly offers: readonly Offer[];
  readonly plan: Plan;
  /** Of every bed, by shape, once they have been asked for. */
  readonly lists: Map<Bed, (Lists | undefined)[]>;
}

interface Opened {
  readonly sheet: OpenSheet;
  readonly offer: Offer;
}

/** The plan's turns where any of them fits the sheet, else all that do. */
function listsFor({ lists, plan }: Filling, bed: Bed, shape: number): Lists {
  const known = lists.get(bed) ?? [];
  lists.set(bed, known);
  return (known[shape] ??= newLists(bed, plan, shape));
}

function newLists(bed: Bed, { turns, couples }: Plan, shape: number): Lists {
  const all = bed.singles[shape]!;
  const planned = all.filter(({ members }) => turns[shape]!.has(members[0]!.variant.number));
  return {
    couples: couples ? bed.couples[shape]! : [],
    singles: planned.length > 0 ? planned : all.slice(0, MOST_WAYS),
  };
}

/** Lists of ways to try, those that save most first. */
type Trial = (bed: Bed) => readonly Way[];

/** Lays a couple or a single copy; 0 when there is no room for either. */
function* layNext(
  filling: Filling,
  index: number,
  togo: number,
  seen: number,
): Generator<number, number, void> {
  const { sheets, shapes, offers, plan } = filling;
  if (!offers.some(({ bed }) => listsFor(filling, bed, index).singles.length > 0)) return 0;
  const shape = shapes[index]!;
  const lay = ({ sheet, offer }: Opened, ways: readonly Way[]): number =>
    layCopies(sheet, shape, index, ways, wishFor(offer.bed, plan), offer.cache);
  const trials = trialsFor(filling, index, togo);
  for (const { ways: waysOf, lasting } of trials) {
    for (const opened of sheets) {
      const { sheet, offer } = opened;
      const ways = waysOf(offer.bed);
      if (ways.length === 0 || sheet.fullFor.has(ways)) continue;
      for (const way of ways) for (const _ of prepare(sheet, shape, way, offer.cache)) yield seen;
      shorten(sheet, sheets);
      const laid = lay(opened, ways);
      if (laid > 0) return laid;
      if (lasting) sheet.fullFor.add(ways);
      yield seen;
    }
  }
  for (const offer of offers) {
    if (sheets.filter((one) => one.offer === offer).length >= offer.most) continue;
    const opened = { sheet: openSheet(offer.bed), offer };
    shorten(opened.sheet, sheets);
    for (const { ways } of trials) {
      const laid = lay(opened, ways(offer.bed));
      if (laid === 0) continue;
      sheets.push(opened);
      return laid;
    }
  }
  return 0;
}

/** A roll is filled from its end: to the left would be along all of its length. */
function wishFor({ choice }: Bed, { preference }: Plan): Preference {
  return choice.form === "roll" ? { ...preference, axis: "y" } : preference;
}

/** Couples, then one way drawn by lot, then all ways; what has found no room once may be `lasting`. */
function trialsFor(
  filling: Filling,
  index: number,
  togo: number,
): readonly { readonly ways: Trial; readonly lasting: boolean }[] {
  const { whim, random } = filling.plan;
  const lot = random() < whim ? random() : null;
  const singles: Trial = (bed) => listsFor(filling, bed, index).singles;
  const couples: Trial = (bed) => listsFor(filling, bed, index).couples;
  const drawn: Trial = (bed) => {
    const all = singles(bed);
    return all.slice(Math.floor(lot! * all.length)).slice(0, 1);
  };
  return [
    ...(togo > 1 ? [{ ways: couples, lasting: true }] : []),
    ...(lot === null ? [] : [{ ways: drawn, lasting: false }]),
    { ways: singles, lasting: true },
  ];
}

/** All lengths of a roll together are no more than there is of it. */
function shorten(sheet: OpenSheet, sheets: readonly Opened[]): void {
  const { choice } = sheet;
  if (choice.form === "sheet" || choice.longestMm === null || choice.onHand === null) return;
  const cutMm = sheets
    .filter((other) => other.sheet !== sheet && other.sheet.choice === choice)
    .reduce((sum, other) => sum + sheetLength(choice, other.sheet.usedMm), 0);
  sheet.shortMm = Math.max(0, mostLength(choice) - lengthLeft(choice, cutMm));
}
