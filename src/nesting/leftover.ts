import { poseRegion } from "../geometry/pose.ts";
import { regionArea } from "../geometry/ring.ts";
import { JudgementError, judge } from "./check.ts";
import { freeRectangle } from "./free-rectangle.ts";
import { sheetArea } from "../geometry/sheet-area.ts";
import { outsideOf } from "./sheet-outline.ts";
import type { Nest, NestedSheet, NestPiece, SheetChoice } from "./types.ts";

/** What is left of a sheet in one rectangle, mm; 0,0 is the sheet's lower left corner. */
export interface Leftover {
  /** Index into the sheets of the nest. */
  readonly onSheet: number;
  readonly xMm: number;
  readonly yMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** A narrower strip is no offcut worth a place on the shelf (common practice, no source). */
export const LEAST_SIDE_MM = 50;

/**
 * The largest rectangle that is free on one of the emptiest sheets of a nest: inside the margin and
 * the gap away from every piece, so that it can be cut off as a further piece would be. It has been
 * judged as one, and is given in whole tenths of a mm. Null when none is worth keeping; of a roll
 * nothing is left over, for the rest stays on it.
 * @throws JudgementError when it is not free: a fault of the search for it.
 */
export function leftoverOf(
  pieces: readonly NestPiece[],
  { choices, sheets }: Pick<Nest, "choices" | "sheets">,
): Leftover | null {
  const byPart = new Map(pieces.map((piece) => [piece.part, piece]));
  const areas = new Map(pieces.map(({ part, region }) => [part, regionArea(region)]));
  const emptiestFirst = sheets
    .flatMap((sheet, onSheet) => {
      const choice = choices.find(({ id }) => id === sheet.sheet);
      const takenMm2 = sheet.placements.reduce((sum, { part }) => sum + (areas.get(part) ?? 0), 0);
      if (choice?.form !== "sheet") return [];
      return [{ sheet, onSheet, choice, freeMm2: sheetArea(sheet) - takenMm2 }];
    })
    .sort((a, b) => b.freeMm2 - a.freeMm2);
  let best: Found | null = null;
  for (const one of emptiestFirst.slice(0, MOST_SHEETS)) {
    const largest = best === null ? 0 : best.left.widthMm * best.left.heightMm;
    if (one.freeMm2 <= largest) break;
    const left = leftoverOn(byPart, one);
    if (left !== null && left.widthMm * left.heightMm > largest) best = { ...one, left };
  }
  if (best === null) return null;
  judgeAsPiece(byPart, best);
  return best.left;
}

/** Looked at; of many sheets those that come later are hardly emptier. */
const MOST_SHEETS = 6;

interface OnSheet {
  readonly onSheet: number;
  readonly sheet: NestedSheet;
  readonly choice: SheetChoice;
}

interface Found extends OnSheet {
  readonly left: Leftover;
}

function leftoverOn(
  byPart: ReadonlyMap<string, NestPiece>,
  { onSheet, sheet, choice }: OnSheet,
): Leftover | null {
  const { marginMm, gapMm } = choice;
  const obstacles = sheet.placements.map((placement) => {
    const { region, flatteningMm } = byPart.get(placement.part)!;
    return { region: poseRegion(placement, region), keepMm: gapMm + flatteningMm };
  });
  const within = {
    minX: marginMm,
    minY: marginMm,
    maxX: sheet.widthMm - marginMm,
    maxY: sheet.heightMm - marginMm,
  };
  const beyond = outsideOf(choice).map((region) => ({
    region,
    keepMm: marginMm + (choice.outline?.flatteningMm ?? 0),
  }));
  const box = freeRectangle([...obstacles, ...beyond], within, LEAST_SIDE_MM);
  if (box === null) return null;
  const [xMm, yMm] = [tenthUp(box.minX), tenthUp(box.minY)];
  const widthMm = tenths(-tenthUp(-box.maxX) - xMm);
  const heightMm = tenths(-tenthUp(-box.maxY) - yMm);
  return { onSheet, xMm, yMm, widthMm, heightMm };
}

/** Rounding errors of coordinates are no tenth; a tenth of what the judge sees. */
const ROUNDING_MM = 1e-7;
const PER_MM = 10;

function tenthUp(mm: number): number {
  return Math.ceil((mm - ROUNDING_MM) * PER_MM) / PER_MM;
}

function tenths(mm: number): number {
  return Math.round(mm * PER_MM) / PER_MM;
}

/** By the judge of nests: the sheet alone, with the rectangle as one piece more. */
function judgeAsPiece(
  byPart: ReadonlyMap<string, NestPiece>,
  { choice, sheet, left: { xMm, yMm, widthMm, heightMm } }: Found,
): void {
  const outer = [
    { x: 0, y: 0 },
    { x: widthMm, y: 0 },
    { x: widthMm, y: heightMm },
    { x: 0, y: heightMm },
  ];
  const left: NestPiece = {
    part: NO_PART,
    copies: 1,
    region: { outer, holes: [] },
    flatteningMm: 0,
    turn: "fixed",
    flip: false,
  };
  const copies = new Map<string, number>();
  const lying = sheet.placements.map((placement) => {
    const copy = (copies.get(placement.part) ?? 0) + 1;
    copies.set(placement.part, copy);
    return { ...placement, copy };
  });
  const pieces = [...copies].map(([part, count]) => ({ ...byPart.get(part)!, copies: count }));
  const place = { part: NO_PART, copy: 1, turnDeg: 0, mirrored: false, xMm, yMm };
  const sheets = [{ ...sheet, placements: [...lying, place] }];
  const faults = judge([...pieces, left], [choice], sheets, []);
  if (faults.length > 0) throw new JudgementError(`what is left of ${choice.id}`, faults);
}

/** No part has this name. */
const NO_PART = "";
