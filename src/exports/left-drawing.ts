import type { PartGeometry } from "../drawing/types.ts";
import type { NestedStock } from "../estimate-data.ts";
import { placedLines } from "../machine/work.ts";
import { stockName } from "../units.ts";
import { drawingSvg } from "./layout-svg.ts";

/**
 * What is left of a sheet as a drawing, with a hole for each copy cut out of it: SVG 1.1 at true size,
 * as an offcut of a later job names it.
 * @param geometry by part name.
 * @throws RangeError when there is no such sheet, or a placed part has no geometry.
 */
export function leftDrawing(
  stock: NestedStock,
  sheetIndex: number,
  geometry: ReadonlyMap<string, PartGeometry>,
): string {
  const sheet = stock.sheets[sheetIndex];
  if (sheet === undefined) throw new RangeError(`no sheet ${sheetIndex + 1} of ${stock.sheet}`);
  const { widthMm, heightMm, outline = null } = sheet;
  return drawingSvg({
    title: `${stockName(stock)}, what is left of sheet ${sheetIndex + 1}, ${sheet.sheet}`,
    widthMm,
    heightMm,
    outline,
    paths: placedLines(sheet, geometry).map(({ part, copy, outline: path }) => ({
      operation: "cut",
      part,
      copy,
      path,
    })),
    labels: [],
    offcut: null,
    leftover: null,
  });
}
