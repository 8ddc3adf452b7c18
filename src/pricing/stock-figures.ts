import { regionArea } from "../geometry/ring.ts";
import type { SheetExtent } from "../geometry/sheet-area.ts";
import { Amount } from "../money.ts";
import type { Place } from "../problem.ts";
import { MM2_PER_M2 } from "../units.ts";
import { distinct, slug } from "./ledger.ts";
import type { PricedStock, PricingInput } from "./types.ts";

/** Names, places and areas that the figures of a stock's sheets share. */

/** `sheet.acrylic-cast-3.count` and its like. */
export function stockId(stock: { material: string; thicknessMm: number }, what: string): string {
  return `sheet.${slug(`${stock.material} ${stock.thicknessMm}`)}.${what}`;
}

/** `machine.acrylic-cast-3.minutes` and its like. */
export function machineId(stock: { material: string; thicknessMm: number }, what: string): string {
  return stockId(stock, what).replace(/^sheet\./, "machine.");
}

/** All that a judged nest depends on: sizes offered, the bed, parts and their drawings, pieces. */
export function nestedFrom(input: PricingInput, stock: PricedStock): readonly Place[] {
  const offered = [...input.tables.sheets, ...input.job.offcuts].filter(
    ({ material, thicknessMm }) => material === stock.material && thicknessMm === stock.thicknessMm,
  );
  const parts = partsOf(input, stock).flatMap(({ part, geometry, cutFrom, spare }) => [
    part.place,
    geometry.place,
    ...cutFrom,
    // A cell of the part's own row is told with the row.
    ...(spare === null || part.spare !== null ? [] : [spare.place]),
  ]);
  return distinct([
    ...stock.used.map(({ row }) => row.place),
    ...offered.map(({ place }) => place),
    ...input.job.sheets.map(({ place }) => place),
    input.machine.place,
    ...parts,
    input.job.piecesPlace,
  ]);
}

/** Where the job says that edges in common are cut once, or twice. */
export function commonCutsFrom({ job }: PricingInput): readonly Place[] {
  return job.commonCutsPlace === null ? [] : [job.commonCutsPlace];
}

/** The size's id comes into the figures' where there are several. */
export function usedId(stock: PricedStock, size: string, what: string): string {
  return stockId(stock, stock.used.length > 1 ? `${slug(size)}.${what}` : what);
}

/** Area of a sheet as it is, to the last digit. */
export function m2Of({ outline, widthMm, heightMm }: SheetExtent): Amount {
  const mm2 = outline ? new Amount(regionArea(outline)) : new Amount(widthMm).times(heightMm);
  return mm2.div(MM2_PER_M2);
}

/** The parts that lie on it. */
export function partsOf(input: PricingInput, stock: PricedStock): PricingInput["parts"] {
  const placed = new Set(nestedNames(stock));
  return input.parts.filter(({ part }) => placed.has(part.name));
}

function nestedNames({ nest }: PricedStock): readonly string[] {
  return nest.sheets.flatMap(({ placements }) => placements.map(({ part }) => part));
}
