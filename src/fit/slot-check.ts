import type { PartGeometry } from "../drawing/types.ts";
import type { Point } from "../geometry/types.ts";
import { fitOf, roomier, widthToDraw } from "./fit.ts";
import type { Clearance, Fit, Thickness } from "./fit.ts";
import { slotsOf } from "./slots.ts";
import type { Slot } from "./slots.ts";

/** The slots of a job's parts against the sheets that may stand in them. */

export interface SlottingSheet {
  readonly material: string;
  /** By its name. */
  readonly thicknessMm: number;
  readonly thickness: Thickness;
  readonly clearance: Clearance;
}

export interface SlottedPart {
  readonly part: string;
  readonly geometry: PartGeometry;
  /** That of the part's own material. */
  readonly clearance: Clearance;
  /**
   * What the beam adds to a slot as drawn, mm, by contour: the outline, then the holes. 0 where its
   * lines are moved by half the kerf, null when it is not known.
   */
  readonly kerfsMm: readonly (number | null)[];
}

/** Slots of one part of one width, meant for one sheet. */
export interface SlotFit {
  readonly part: string;
  readonly sheet: SlottingSheet;
  /** As drawn. */
  readonly widthMm: number;
  readonly at: readonly Point[];
  readonly kerfMm: number | null;
  /** Slot as cut less sheet; below 0 it is pressed in. Null without a kerf. */
  readonly clearanceMm: number | null;
  /** With the thickness as measured, or as named. Null without a kerf. */
  readonly fit: Fit | null;
  /** With the thinnest and the thickest sheet of that name; the same as `fit` when measured. */
  readonly range: readonly [thinnest: Fit, thickest: Fit] | null;
  /** Snug, in the middle; null without a kerf. */
  readonly drawMm: number | null;
}

/**
 * Every slot whose width comes near a sheet of the job, in the order of the parts, widths upwards.
 * A slot is taken for the sheet whose thickness is nearest to its width.
 */
export function slotFits(
  parts: readonly SlottedPart[],
  sheets: readonly SlottingSheet[],
): SlotFit[] {
  const reaches = sheets.map(reachOf);
  const widths = {
    lowMm: Math.min(...reaches.map(([low]) => low)),
    highMm: Math.max(...reaches.map(([, high]) => high)),
  };
  return parts.flatMap((part) => {
    const { outline, holes } = part.geometry;
    const slots = [outline, ...holes].flatMap((contour, index) =>
      slotsOf([contour], widths).map((slot) => ({
        ...slot,
        kerfMm: part.kerfsMm[index] ?? null,
      })),
    );
    return alike(slots).flatMap((same) => {
      const [first] = same;
      const sheet = first === undefined ? null : nearestSheet(first.widthMm, sheets);
      return first === undefined || sheet === null ? [] : [slotFit(part, sheet, same)];
    });
  });
}

/**
 * A slot further from the sheet's thickness, in thicknesses, is meant for something else (common
 * practice, no source); what the standard allows the sheet to be is never further.
 */
const REACH_THICKNESSES = 0.25;

function reachOf({ thickness }: SlottingSheet): [number, number] {
  const { lowMm, likelyMm, highMm } = thickness;
  const reach = REACH_THICKNESSES * likelyMm;
  return [Math.min(lowMm, likelyMm - reach), Math.max(highMm, likelyMm + reach)];
}

function nearestSheet(widthMm: number, sheets: readonly SlottingSheet[]): SlottingSheet | null {
  const away = ({ thickness }: SlottingSheet): number => Math.abs(thickness.likelyMm - widthMm);
  return sheets
    .filter((sheet) => {
      const [low, high] = reachOf(sheet);
      return widthMm >= low && widthMm <= high;
    })
    .reduce<SlottingSheet | null>(
      (best, sheet) => (best === null || away(sheet) < away(best) ? sheet : best),
      null,
    );
}

/** Widths nearer to each other are drawn as one. */
const ALIKE_MM = 0.005;

interface CutSlot extends Slot {
  readonly kerfMm: number | null;
}

/** Of one width, cut alike; widths upwards. */
function alike(slots: readonly CutSlot[]): CutSlot[][] {
  const groups: CutSlot[][] = [];
  for (const slot of slots.toSorted((a, b) => a.widthMm - b.widthMm)) {
    const group = groups.find(
      ([first]) =>
        first !== undefined &&
        first.kerfMm === slot.kerfMm &&
        slot.widthMm - first.widthMm <= ALIKE_MM,
    );
    if (group === undefined) groups.push([slot]);
    else group.push(slot);
  }
  return groups;
}

function slotFit(
  { part, clearance: own }: SlottedPart,
  sheet: SlottingSheet,
  slots: readonly CutSlot[],
): SlotFit {
  const [first] = slots;
  const [widthMm, kerfMm] = [withoutDust(first?.widthMm ?? 0), first?.kerfMm ?? null];
  const { thickness } = sheet;
  const clearance = roomier(own, sheet.clearance);
  const known = { part, sheet, widthMm, at: slots.map((slot) => slot.at), kerfMm };
  if (kerfMm === null) return { ...known, clearanceMm: null, fit: null, range: null, drawMm: null };
  const fit = (thicknessMm: number): Fit => fitOf(widthMm + kerfMm - thicknessMm, clearance);
  return {
    ...known,
    clearanceMm: widthMm + kerfMm - thickness.likelyMm,
    fit: fit(thickness.likelyMm),
    range: [fit(thickness.lowMm), fit(thickness.highMm)],
    drawMm: widthToDraw(thickness.likelyMm, kerfMm, clearance),
  };
}

/** To a millionth of a mm: what differences of coordinates leave is not shown. */
function withoutDust(mm: number): number {
  return Math.round(mm * 1e6) / 1e6;
}
