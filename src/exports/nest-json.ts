import { Amount } from "../money.ts";
import { sheetArea } from "../geometry/sheet-area.ts";
import type { NestReport, NestedStock } from "../estimate-data.ts";

/**
 * The answer of `nest --json`: sheets of all materials in one list. A point of the outline as drawn
 * is mirrored first (x to -x) if `mirrored`, then turned counter-clockwise by `turnDeg` about 0,0,
 * then moved by (`xMm`, `yMm`); 0,0 is the sheet's lower left corner, of an
 * odd-shaped offcut that of the box around its `outline`.
 */
export interface NestJson {
  readonly version: 1;
  readonly sheets: readonly (NestedStock["sheets"][number] & {
    readonly material: string;
    readonly thicknessMm: number;
  })[];
  readonly unplaced: readonly (NestedStock["unplaced"][number] & { readonly material: string })[];
  readonly figures: {
    /** Area of the pieces over area of the sheets, 0 to 1. */
    readonly utilisation: number;
    readonly sheetCost: number;
    /** No set of the sheets on offer that takes every copy, also those unplaced, can cost less. */
    readonly costBound: number;
    /** Only when some material came from a roll: the length used of all rolls. */
    readonly rollLengthMm?: number;
    readonly steps: number;
    readonly seed: number;
  };
  /** Of each material and thickness the sizes tried, the best of several, what is left whole. */
  readonly choices: readonly Pick<
    NestedStock,
    "material" | "thicknessMm" | "sheet" | "used" | "bySize" | "mix" | "boughtMix" | "leftover"
  >[];
}

export function nestJson({ stocks, parts, steps, seed }: NestReport): NestJson {
  const rolls = stocks.flatMap(({ used }) => used.flatMap(({ lengthMm }) => lengthMm ?? []));
  const rollLengthMm = rolls.reduce((sum, lengthMm) => sum + lengthMm, 0);
  const areas = new Map(parts.map(({ name, cut }) => [name, cut.areaMm2]));
  const sheets = stocks.flatMap(({ material, thicknessMm, sheets }) =>
    sheets.map((sheet) => ({ ...sheet, material, thicknessMm })),
  );
  const placed = sheets.flatMap(({ placements }) => placements);
  const pieceArea = placed.reduce((sum, { part }) => sum + (areas.get(part) ?? 0), 0);
  const sheetMm2 = sheets.reduce((sum, sheet) => sum + sheetArea(sheet), 0);
  return {
    version: 1,
    sheets,
    unplaced: stocks.flatMap(({ material, unplaced }) =>
      unplaced.map((one) => ({ ...one, material })),
    ),
    figures: {
      utilisation: sheetMm2 === 0 ? 0 : pieceArea / sheetMm2,
      sheetCost: total(stocks.map(({ sheetCost }) => sheetCost)),
      costBound: total(stocks.map(({ costBound }) => costBound)),
      ...(rolls.length > 0 ? { rollLengthMm } : {}),
      steps,
      seed,
    },
    choices: stocks.map(
      ({ material, thicknessMm, sheet, used, bySize, mix, boughtMix, leftover }) => ({
        material,
        thicknessMm,
        sheet,
        used,
        bySize,
        mix,
        boughtMix,
        leftover,
      }),
    ),
  };
}

/** Added as decimals; JSON has only numbers to write them in. */
function total(amounts: readonly string[]): number {
  return amounts.reduce((sum, amount) => sum.plus(amount), new Amount(0)).toNumber();
}
