import { pathBounds } from "../geometry/path.ts";
import type { FeedRow, MachineRow } from "../job/types.ts";
import { overscan } from "./raster.ts";
import type { OrderedPath } from "./types.ts";

/** A sheet that the machine engraves on. */
export interface EngravedSheet {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly order: readonly OrderedPath[];
}

/**
 * How far the beam, which turns outside of what it engraves, would have to run out over the bed, mm; 0
 * where the sheet can be laid so that it does not.
 */
export function runsOutBy(
  { widthMm, heightMm, order }: EngravedSheet,
  feed: FeedRow,
  machine: MachineRow,
): number {
  const { bedWidthMm, bedHeightMm, accelerationMmS2, rasterAccelerationMmS2 } = machine;
  const boxes = order
    .filter(({ operation }) => operation === "engrave")
    .map(({ path }) => pathBounds(path));
  if (boxes.length === 0) return 0;
  const out = overscan(feed.feedMmS.likely, rasterAccelerationMmS2 ?? accelerationMmS2);
  const left = Math.min(0, ...boxes.map(({ minX }) => minX - out));
  const right = Math.max(widthMm, ...boxes.map(({ maxX }) => maxX + out));
  // It may lie either way round on the bed, and its lines then run the other way.
  const beds = [
    { along: bedWidthMm, across: bedHeightMm },
    { along: bedHeightMm, across: bedWidthMm },
  ].filter(({ along, across }) => widthMm <= along && heightMm <= across);
  const most = Math.max(0, ...beds.map(({ along }) => along));
  return most === 0 ? 0 : Math.max(0, right - left - most);
}
