import type { Random } from "../../random.ts";
import { kindOf } from "./entry.ts";
import type { Laying, Room } from "./laying.ts";
import { inUnits } from "./sizes.ts";
import type { Offer, Stock } from "./stock.ts";

/** A sheet to lay copies on. */
export interface Place {
  readonly offer: Offer;
  readonly room: Room;
  /** The room is that of the sheet with its sides swapped. */
  readonly lying: boolean;
}

/** A sheet with what lies on it: laid again in its room, the entries come to lie the same. */
export interface LaidSheet extends Place {
  readonly entries: readonly number[];
  readonly weight: number;
}

export interface Sheets {
  readonly sheets: readonly LaidSheet[];
  /** Entries that found no place. */
  readonly left: readonly number[];
}

/** Sheets are filled from either edge, by lot; lengths of a roll only along it. */
export function drawPlace(offer: Offer, random: Random): Place {
  const lying = offer.choice.form === "sheet" && random() < 0.5;
  return { offer, lying, room: lying ? offer.lying : offer.upright };
}

export function costOf(sheets: readonly LaidSheet[]): number {
  return sheets.reduce((sum, { offer }) => sum + offer.cost, 0);
}

export function weightOf(entries: readonly number[], { weights }: Stock): number {
  return entries.reduce((sum, entry) => sum + weights[kindOf(entry)]!, 0);
}

/** What the laying has just done, by rooms. */
export function parted(
  laying: Laying,
  list: readonly number[],
  rooms: number,
): { readonly laid: readonly (readonly number[])[]; readonly left: readonly number[] } {
  const laid: number[][] = Array.from({ length: rooms }, () => []);
  const left: number[] = [];
  for (const [at, entry] of list.entries()) (laid[laying.room[at]!] ?? left).push(entry);
  return { laid, left };
}

/** The area of the largest rectangle that could still be laid above all that lies there, mm2. */
export function freeArea(laying: Laying, { offer, room, lying, entries }: LaidSheet): number {
  laying.lay(Int32Array.from(entries), entries.length, [room]);
  const { lefts, widths, tops, steps } = laying.skyline;
  const gap = inUnits(offer.choice.gapMm);
  // The room may have been lowered; the sheet has not.
  const height = (lying ? offer.lying : offer.upright).height;
  let best = 0;
  for (let from = 0; from < steps; from++) {
    let top = 0;
    for (let to = from; to < steps; to++) {
      top = Math.max(top, tops[to]!);
      const across = lefts[to]! + widths[to]! - lefts[from]! - gap;
      best = Math.max(best, Math.max(0, across) * Math.max(0, height - top - gap));
    }
  }
  return best;
}
