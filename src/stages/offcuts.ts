import type { DrawnOffcut } from "../drawing/parts.ts";
import type { PartGeometry } from "../drawing/types.ts";
import { poseRegion } from "../geometry/pose.ts";
import { boundsOf } from "../geometry/ring.ts";
import type { OffcutOnShelf, SheetRow } from "../job/types.ts";
import type { SheetOutline } from "../nesting/types.ts";
import { stockName } from "../units.ts";
import type { Panels } from "./panels.ts";

/** Offcuts on the shelf as sheets to nest on. */

/** A sheet of the table, or an offcut. */
export interface StockRow extends SheetRow {
  readonly offcut?: boolean;
  /** Of an offcut that is no rectangle. */
  readonly outline?: SheetOutline;
  /** Into which it is sawn before it comes to the machine. */
  readonly panels?: Panels;
}

/** An offcut whose size is known. */
export interface ShapedOffcut {
  readonly offcut: OffcutOnShelf;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Null for a rectangle. */
  readonly outline: SheetOutline | null;
}

/** Those of which there is a drawing. */
export function drawnOffcuts(offcuts: readonly OffcutOnShelf[]): readonly DrawnOffcut[] {
  return offcuts.flatMap(({ id, form, place }) =>
    form.kind === "drawing" ? [{ id, form, place }] : [],
  );
}

/** @param drawn of {@link drawnOffcuts}, null for those that could not be read. */
export function shapedOffcuts(
  offcuts: readonly OffcutOnShelf[],
  drawn: readonly (PartGeometry | null)[],
): readonly ShapedOffcut[] {
  let next = 0;
  return offcuts.flatMap((offcut): readonly ShapedOffcut[] => {
    const { form } = offcut;
    if (form.kind === "rectangle")
      return [{ offcut, widthMm: form.widthMm, heightMm: form.heightMm, outline: null }];
    const geometry = drawn[next++] ?? null;
    return geometry === null ? [] : [{ offcut, ...shapeOf(geometry) }];
  });
}

/** Moved so that the lower left corner of its box is at 0,0. */
function shapeOf({ region, flatteningMm }: PartGeometry): Omit<ShapedOffcut, "offcut"> {
  const { minX, minY } = boundsOf(region.outer);
  const moved = poseRegion({ mirrored: false, turnDeg: 0, xMm: -minX, yMm: -minY }, region);
  const { maxX, maxY } = boundsOf(moved.outer);
  return { widthMm: maxX, heightMm: maxY, outline: { region: moved, flatteningMm } };
}

/**
 * An offcut keeps the margin and the gap of the sheets of its stock, the widest where they differ.
 *
 * @param sold of the same material and thickness.
 */
export function offcutRow(
  { offcut, widthMm, heightMm, outline }: ShapedOffcut,
  sold: readonly SheetRow[],
): StockRow {
  const { id, material, thicknessMm, quantity, price, note, place } = offcut;
  const sheets = sold.filter(({ form }) => form === "sheet");
  const like = sheets.length > 0 ? sheets : sold;
  return {
    id,
    material,
    thicknessMm,
    form: "sheet",
    widthMm,
    heightMm,
    price,
    marginMm: Math.max(...like.map(({ marginMm }) => marginMm)),
    gapMm: Math.max(...like.map(({ gapMm }) => gapMm)),
    onHand: quantity,
    place,
    validFrom: "",
    source: note === "" ? `offcut of ${stockName(offcut)}` : note,
    offcut: true,
    ...(outline === null ? {} : { outline }),
  };
}
