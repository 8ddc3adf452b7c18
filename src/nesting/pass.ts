import type { Bed, Way } from "./bed.ts";
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
import type { Unplaced } from "./types.ts";

export interface Filled {
  readonly sheets: readonly OpenSheet[];
  readonly unplaced: readonly Unplaced[];
}

/**
 * Lays all copies, each on the first sheet that has room for it. Yields how many copies have been
 * seen to, often: before each of them and within. Null when more than `mostSheets` would be needed.
 */
export function* fillSheets(
  shapes: readonly Shape[],
  bed: Bed,
  plan: Plan,
  cache: NoFitCache,
  mostSheets = Infinity,
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
      if (sheets.length > mostSheets) return null;
      if (laid === 0) break;
      togo -= laid;
      seen += laid;
    }
    seen += togo;
    left[batch.shape] = left[batch.shape]! + togo;
  }
  const unplaced = shapes.flatMap(({ piece: { part } }, shape) => {
    const reason = bed.singles[shape]!.length === 0 ? TOO_LARGE : stockUsedUp(bed);
    return left[shape] === 0 ? [] : [{ part, copies: left[shape]!, reason }];
  });
  return { sheets, unplaced };
}

const TOO_LARGE = "larger than the sheet less its margin in every allowed turn";

function stockUsedUp({ choice: { form, onHand } }: Bed): string {
  const stock = form === "sheet" ? (onHand === 1 ? "sheet" : "sheets") : "m of roll";
  return `no room left on the ${onHand ?? 0} ${stock} on hand`;
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
  for (const ways of [coupled, drawn, singles].filter(({ length }) => length > 0)) {
    for (const sheet of sheets.filter(({ fullFor }) => !fullFor.has(ways))) {
      for (const way of ways) if (prepare(sheet, shape, way, cache)) yield seen;
      const laid = lay(sheet, ways);
      if (laid > 0) return laid;
      if (ways !== drawn) sheet.fullFor.add(ways);
      yield seen;
    }
  }
  const most = roll ? 1 : (bed.choice.onHand ?? Infinity);
  if (sheets.length >= most) return 0;
  const sheet = openSheet(bed);
  sheets.push(sheet);
  return lay(
    sheet,
    [coupled, drawn, singles].find(({ length }) => length > 0)!,
  );
}
