import type { Amount } from "../../money.ts";
import { mayFit } from "../cost-bound.ts";
import { unplacedOf } from "../unplaced.ts";
import type { Outline } from "../outline.ts";
import { sheetsInOrder, triedOf, type Tried } from "../tried.ts";
import type { SheetChoice } from "../types.ts";
import type { RectangleNest } from "./laid.ts";
import { layRectangles, type RectanglesFound } from "./search.ts";
import { inUnits, rectanglesOf, roomOf, sideInUnits, type Rectangle } from "./sizes.ts";

/** One search: of a size that is bought, or of all sheets together. */
export interface RectangleSearch {
  readonly choices: readonly SheetChoice[];
  readonly work: Generator<RectanglesFound, void, void>;
  /** Looks at rectangles that laying all of them once takes, about. */
  readonly looks: number;
  /** What {@link advanced} has given out last. */
  given: RectangleNest | null;
}

/**
 * The searches where all pieces are rectangles that may well lie along the edges of the sheets: one
 * for each size bought, then one for all sheets together where there are several or offcuts, and one
 * for those bought where there are both. Null
 * where the search for any shapes has more to offer: holes that could take a piece, a piece that a
 * size takes aslant only, a sheet that is no rectangle.
 *
 * @param bounds of the choices alone, in their order; then of all together.
 */
export function rectangleSearches(
  outlines: readonly Outline[],
  choices: readonly SheetChoice[],
  bounds: readonly Amount[],
  seed: number,
): readonly RectangleSearch[] | null {
  const read = rectanglesOf(outlines);
  if (read === null || read.hollow || choices.some(({ outline }) => outline)) return null;
  const { rectangles } = read;
  if (choices.some((choice) => isForSlanted(outlines, rectangles, choice))) return null;
  const copies = rectangles.reduce((sum, each) => sum + each.copies, 0);
  const looks = copies * (rectangles.length + LOOKS_BESIDE);
  const searchOf = (
    own: readonly SheetChoice[],
    number: number,
    bound = bounds[number]!,
  ): RectangleSearch => ({
    choices: own,
    work: layRectangles({ rectangles }, own, seed + number, bound.toNumber()),
    looks,
    given: null,
  });
  const bought = choices.filter(({ offcut }) => offcut !== true);
  const singles = bought.map((choice, number) => searchOf([choice], number));
  const sheets = choices.filter(({ form }) => form === "sheet");
  const mixed = sheets.length > 1 || bought.length === 0;
  if (!mixed || sheets.length === 0) return singles;
  const all = searchOf(sheets, choices.length);
  const sold = sheets.filter(({ offcut }) => offcut !== true);
  if (sold.length < 2 || sold.length === sheets.length) return [...singles, all];
  // To be held against the one with offcuts, which costs no more: its bound holds here as well.
  return [...singles, all, searchOf(sold, choices.length + 1, bounds[choices.length])];
}

/** Finding the place for a copy, in looks. */
const LOOKS_BESIDE = 8;

/** Whether it takes a piece for certain not along its edges, but aslant perhaps. */
function isForSlanted(
  outlines: readonly Outline[],
  rectangles: readonly Rectangle[],
  choice: SheetChoice,
): boolean {
  const { width, height } = roomOf(choice, choice.heightMm ?? Infinity);
  const gap = inUnits(choice.gapMm);
  return rectangles.some(({ widthMm, heightMm, ways }, index) => {
    const { piece } = outlines[index]!;
    if (piece.turn !== "any" || !mayFit(piece, choice)) return false;
    const [across, up] = [sideInUnits(widthMm) + gap, sideInUnits(heightMm) + gap];
    const turned = ways.length > 1 && up <= width && across <= height;
    return !turned && !(across <= width && up <= height);
  });
}

/**
 * Lets a search take so many looks, or fewer where that lays everything often enough: its best nest
 * where that is a new one, else null. Yields now and then. A first nest is found whatever that takes.
 */
export function* advanced(
  search: RectangleSearch,
  outlines: readonly Outline[],
  most: number,
): Generator<void, Tried | null, void> {
  const looks = Math.min(most, search.looks * MOST_LAYINGS);
  let [from, best] = [null as number | null, search.given];
  for (let turn = search.work.next(); turn.done !== true; turn = search.work.next()) {
    const { spent } = turn.value;
    ({ best } = turn.value);
    from ??= search.given === null ? 0 : spent;
    if (spent - from >= looks) break;
    yield;
  }
  if (best === null || best === search.given) return null;
  search.given = best;
  const { choices } = search;
  const unplaced = unplacedOf(outlines, choices, best.left, best.fits);
  const sheets = sheetsInOrder(choices, best.sheets);
  return { ...triedOf(outlines, choices, { sheets, unplaced }), freeMm2: best.freeMm2 };
}

const MOST_LAYINGS = 4000;
