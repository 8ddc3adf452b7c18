import type { Box } from "../geometry/types.ts";
import { plainTurns } from "./bed.ts";
import type { Filled, FilledSheet, Laid } from "./filled.ts";
import { unplacedOf } from "./unplaced.ts";
import { lengthLeft, mostLength, mostSheets } from "./lengths.ts";
import type { Outline } from "./outline.ts";
import type { SheetChoice } from "./types.ts";

/**
 * A layout in no time: every copy takes the box around it, laid where it comes lowest on the first
 * sheet that has room (bottom-left on a skyline, Chazelle 1983, from memory). Where none has, a new
 * one is opened, of the first size that takes it and is not used up. Far from tight, but complete
 * where the stock allows. Odd-shaped sheets are left alone.
 */
export function fillByBoxes(outlines: readonly Outline[], choices: readonly SheetChoice[]): Filled {
  const boxed = outlines.map((outline) =>
    choices.map((choice) => ({ choice, kinds: boxesOf(outline, choice) })),
  );
  const order = [...outlines.keys()].sort((a, b) => longest(boxed[b]!) - longest(boxed[a]!));
  const sheets: BoxedSheet[] = [];
  const left = outlines.map(() => 0);
  for (const shape of order) {
    let full = 0;
    for (let copy = 0; copy < outlines[shape]!.piece.copies; copy++) {
      // Where one copy found no room the next finds none.
      while (full < sheets.length && !layOn(sheets[full]!, shape, boxed[shape]!)) full++;
      if (full < sheets.length || layOnNew(sheets, shape, boxed[shape]!)) continue;
      left[shape] = outlines[shape]!.piece.copies - copy;
      break;
    }
  }
  const fits = boxed.map((ways) => ways.some(({ kinds }) => kinds.length > 0));
  return { sheets, unplaced: unplacedOf(outlines, choices, left, fits) };
}

/** One of at most a few ways to lay a copy, with the room that it takes. */
interface Boxed {
  readonly variant: Laid["variant"];
  /** To the left and lower end of its room. */
  readonly offset: { readonly x: number; readonly y: number };
  /** With half a gap to every side. */
  readonly widthMm: number;
  readonly heightMm: number;
}

interface BoxedSheet extends FilledSheet {
  readonly placed: Laid[];
  usedMm: number;
  /** What is left of its length, between the margins, a gap added. */
  readonly roomMm: number;
  /** From left to right, without a break. */
  skyline: readonly Level[];
}

interface Level {
  readonly x: number;
  readonly width: number;
  readonly y: number;
}

function boxesOf(outline: Outline, choice: SheetChoice): readonly Boxed[] {
  const grown = outline.piece.flatteningMm;
  if (choice.outline !== undefined) return [];
  return plainTurns(outline, choice)
    .slice(0, MOST_BOXES)
    .map((variant) => {
      const { minX, minY, maxX, maxY }: Box = variant.box;
      return {
        variant,
        offset: { x: grown - minX, y: grown - minY },
        widthMm: maxX - minX + 2 * grown + choice.gapMm,
        heightMm: maxY - minY + 2 * grown + choice.gapMm,
      };
    });
}

const MOST_BOXES = 2;

/** The ways to lay a copy on one size. */
interface BoxedOn {
  readonly choice: SheetChoice;
  readonly kinds: readonly Boxed[];
}

function longest(ways: readonly BoxedOn[]): number {
  const kinds = ways.find((on) => on.kinds.length > 0)?.kinds ?? [];
  return kinds.reduce((most, { widthMm, heightMm }) => Math.max(most, widthMm, heightMm), 0);
}

function layOnNew(sheets: BoxedSheet[], shape: number, ways: readonly BoxedOn[]): boolean {
  return ways.some(({ choice, kinds }) => {
    const its = sheets.filter((sheet) => sheet.choice === choice).length;
    if (kinds.length === 0 || its >= mostSheets(choice)) return false;
    const sheet = emptySheet(choice, its);
    if (!layOn(sheet, shape, ways)) return false;
    sheets.push(sheet);
    return true;
  });
}

/** @param its sheets of the size that are opened already. */
function emptySheet(choice: SheetChoice, its: number): BoxedSheet {
  const most = mostLength(choice);
  // Of a roll the lengths before are reckoned as cut off whole, for they may still be filled.
  const before = its === 0 ? 0 : its * most;
  const length = choice.form === "sheet" ? most : Math.min(most, lengthLeft(choice, before));
  const inner = (lengthMm: number): number => lengthMm - 2 * choice.marginMm + choice.gapMm;
  return {
    choice,
    placed: [],
    usedMm: 0,
    roomMm: inner(length),
    skyline: [{ x: 0, width: inner(choice.widthMm), y: 0 }],
  };
}

/** False when there is no room. */
function layOn(sheet: BoxedSheet, shape: number, ways: readonly BoxedOn[]): boolean {
  const { gapMm, marginMm } = sheet.choice;
  const kinds = ways.find(({ choice }) => choice === sheet.choice)?.kinds ?? [];
  let best: { readonly boxed: Boxed; readonly x: number; readonly y: number } | null = null;
  let lowest = sheet.roomMm + TOUCH_MM;
  for (const boxed of kinds) {
    const place = lowestOn(sheet.skyline, boxed.widthMm);
    if (place === null || place.y + boxed.heightMm >= lowest) continue;
    lowest = place.y + boxed.heightMm;
    best = { boxed, ...place };
  }
  if (best === null) return false;
  const { boxed, x, y } = best;
  sheet.placed.push({
    shape,
    variant: boxed.variant,
    x: marginMm + x + boxed.offset.x,
    y: marginMm + y + boxed.offset.y,
  });
  sheet.usedMm = Math.max(sheet.usedMm, marginMm + lowest - gapMm);
  sheet.skyline = raised(sheet.skyline, { x, width: boxed.widthMm, y: lowest });
  return true;
}

/** So that what fits to the last hair does not fail by a rounding error. */
const TOUCH_MM = 1e-9;

/** Where a box so wide comes lowest, leftmost of several; null when it is too wide. */
function lowestOn(
  skyline: readonly Level[],
  widthMm: number,
): { readonly x: number; readonly y: number } | null {
  let best: { readonly x: number; readonly y: number } | null = null;
  const last = skyline.at(-1)!;
  const end = last.x + last.width;
  for (const [index, { x }] of skyline.entries()) {
    if (x + widthMm > end + TOUCH_MM) break;
    let y = 0;
    for (let over = index; over < skyline.length; over++) {
      const level = skyline[over]!;
      if (level.x >= x + widthMm - TOUCH_MM || (best !== null && y >= best.y)) break;
      y = Math.max(y, level.y);
    }
    if (best === null || y < best.y - TOUCH_MM) best = { x, y };
  }
  return best;
}

/** With a box put on top. */
function raised(skyline: readonly Level[], box: Level): readonly Level[] {
  const end = box.x + box.width;
  const before = skyline.filter(({ x }) => x < box.x);
  const after = skyline
    .filter((level) => level.x + level.width > end + TOUCH_MM)
    .map((level) => {
      const x = Math.max(level.x, end);
      return { ...level, x, width: level.x + level.width - x };
    });
  return [...before, box, ...after];
}
