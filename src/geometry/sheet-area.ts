import { regionArea } from "./ring.ts";
import type { Region } from "./types.ts";

/** A sheet, or a length of roll; with an outline where it is no rectangle. */
export interface SheetExtent {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly outline?: Region;
}

/** Margins included, mm2. */
export function sheetArea({ outline, widthMm, heightMm }: SheetExtent): number {
  return outline === undefined ? widthMm * heightMm : regionArea(outline);
}
