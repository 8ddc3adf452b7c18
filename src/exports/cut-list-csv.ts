import { DECIMAL_POINT, writeCsv } from "../csv.ts";
import type { Estimate, EstimatedPart, SawnBars, TimedStock } from "../estimate-data.ts";
import { pathBounds } from "../geometry/path.ts";
import type { NestedSheet } from "../nesting/types.ts";
import { lengthText, sizeText, stockName, trimmed } from "../units.ts";
import { leftText, shelfText } from "./bar-words.ts";
import { layoutName } from "./layout-name.ts";
import { rangesText } from "./ranges.ts";

/** What to cut from what: a row for each part on each sheet, and for each length from each bar. */
export function cutListCsv(estimate: Estimate, style = DECIMAL_POINT): string {
  const parts = new Map(estimate.parts.map((part) => [part.name, part]));
  const numbered = numberedSheets(estimate.stocks);
  const sheets = numbered.flatMap(({ number, stock, sheet }) =>
    sheetRows(number, stock, sheet, parts),
  );
  const rows = [...sheets, ...estimate.bars.flatMap(barRows)].map((row) => [...row, ""]);
  return writeCsv(CUT_LIST_COLUMNS, rows, style);
}

export interface NumberedSheet {
  /** From 1 over all materials: the number in the layout's file name. */
  readonly number: number;
  readonly stock: TimedStock;
  readonly sheet: NestedSheet;
  /** Within its stock. */
  readonly index: number;
}

export function numberedSheets(stocks: readonly TimedStock[]): readonly NumberedSheet[] {
  const all = stocks.flatMap((stock) =>
    stock.sheets.map((sheet, index) => ({ stock, sheet, index })),
  );
  return all.map((one, index) => ({ ...one, number: index + 1 }));
}

const CUT_LIST_COLUMNS = [
  "stock",
  "material",
  "part",
  "count",
  "copies",
  "size",
  "operations",
  "finish",
  "note",
  /** Left empty, to tick off. */
  "done",
];

function sheetRows(
  number: number,
  stock: TimedStock,
  sheet: NestedSheet,
  parts: ReadonlyMap<string, EstimatedPart>,
): readonly (readonly string[])[] {
  const names = [...new Set(sheet.placements.map(({ part }) => part))];
  return names.flatMap((name) => {
    const part = parts.get(name);
    if (!part) return [];
    const copies = sheet.placements.filter((one) => one.part === name).map(({ copy }) => copy);
    return [
      [
        layoutName(number, sheet.sheet),
        stockName(stock),
        name,
        String(copies.length),
        // A spreadsheet would take 1-12 for a day.
        rangesText(copies).replaceAll("-", " to "),
        outerSize(part),
        operationsText(part),
        part.finish ?? "",
        part.note,
      ],
    ];
  });
}

function barRows({ stock, description, bars }: SawnBars): readonly (readonly string[])[] {
  return bars.flatMap((bar, index) => {
    const names = [...new Set(bar.pieces.map(({ name }) => name))];
    return names.map((name, row) => {
      const same = bar.pieces.filter((piece) => piece.name === name);
      return [
        `bar ${index + 1}, ${stock} ${trimmed(bar.barMm, 1)} mm${shelfText(bar)}`,
        description,
        name,
        String(same.length),
        "",
        lengthText(same[0]?.lengthMm ?? 0),
        "saw",
        "",
        row === names.length - 1 ? leftText(bar) : "",
      ];
    });
  });
}

/** `165.6 x 241.2 mm`, the box of the outline as drawn. */
export function outerSize({ geometry }: EstimatedPart): string {
  const { minX, maxX, minY, maxY } = pathBounds(geometry.outline);
  return sizeText(maxX - minX, maxY - minY);
}

/** `score, cut`. */
export function operationsText({ geometry }: EstimatedPart): string {
  const extra = [
    geometry.engravings.length > 0 ? "engrave" : null,
    geometry.scores.length > 0 ? "score" : null,
  ];
  return [...extra.filter((one) => one !== null), "cut"].join(", ");
}
