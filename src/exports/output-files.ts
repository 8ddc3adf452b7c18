import { DECIMAL_POINT } from "../csv.ts";
import type { Estimate } from "../estimate-data.ts";
import { costingCsv } from "./costing-csv.ts";
import { costingWorkbook } from "./costing-workbook.ts";
import { cutListCsv, numberedSheets } from "./cut-list-csv.ts";
import { estimateJson } from "./estimate-json.ts";
import { layoutDxf } from "./layout-dxf.ts";
import { layoutName } from "./layout-name.ts";
import { layoutSvg } from "./layout-svg.ts";
import { leftDrawing } from "./left-drawing.ts";
import { makersSheet } from "./makers-sheet.ts";
import { quoteCsv } from "./quote-csv.ts";
import { quotePage } from "./quote-page.ts";
import { shoppingCsv } from "./shopping-csv.ts";

export interface Output {
  /** Relative to the output folder, with `/`. */
  readonly name: string;
  readonly content: string | Uint8Array;
  /** For the person, after the name. */
  readonly what: string;
}

export interface OutputText extends Output {
  readonly content: string;
}

/**
 * Every file of a quote. Adding an export is one line here and one file beside it.
 * @param style how CSV files write cells and decimals.
 */
export function outputFiles(estimate: Estimate, style = DECIMAL_POINT): readonly Output[] {
  return [
    { name: "quote.csv", what: "for the customer", content: quoteCsv(estimate, style) },
    {
      name: "quote.html",
      what: "the same as a page to print",
      content: quotePage(estimate, style),
    },
    { name: "costing.csv", what: "every figure, for you", content: costingCsv(estimate, style) },
    {
      name: "costing.xlsx",
      what: "the same as a workbook that calculates",
      content: costingWorkbook(estimate),
    },
    { name: "shopping.csv", what: "what to buy", content: shoppingCsv(estimate, style) },
    { name: "cutlist.csv", what: "what to cut from what", content: cutListCsv(estimate, style) },
    {
      name: "makers-sheet.txt",
      what: "for the workshop, with cautions",
      content: makersSheet(estimate),
    },
    {
      name: "estimate.json",
      what: "the estimate itself, to compare later ones with",
      content: `${JSON.stringify(estimateJson(estimate), null, 2)}\n`,
    },
    ...layouts(estimate),
  ];
}

function layouts({ stocks, parts }: Estimate): readonly OutputText[] {
  const geometry = new Map(parts.map((part) => [part.name, part.cut]));
  return numberedSheets(stocks).flatMap(({ number, stock, sheet, index }) => {
    const name = `layouts/${layoutName(number, sheet.sheet)}`;
    return [
      { name: `${name}.svg`, what: "layout", content: layoutSvg(stock, index, geometry) },
      { name: `${name}.dxf`, what: "layout", content: layoutDxf(stock, index, geometry) },
      ...(stock.leftover?.onSheet === index
        ? [
            {
              name: `${name}-left.svg`,
              what: "layout",
              content: leftDrawing(stock, index, geometry),
            },
          ]
        : []),
    ];
  });
}
