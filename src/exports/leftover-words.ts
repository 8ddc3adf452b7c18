import type { Estimate, FigureRecord, NestedStock } from "../estimate-data.ts";
import { Amount, moneyText } from "../money.ts";
import { stockId } from "../pricing/stock-figures.ts";
import { sizeText, trimmed } from "../units.ts";
import { kindOf } from "./sheets-words.ts";

/** What is left of a sheet in one piece, in words. */

/** `590 x 52.6 mm, 13.1 % of sheet 2`; null when nothing is. */
export function leftoverText(stock: NestedStock): string | null {
  const { leftover, sheets } = stock;
  if (leftover === null) return null;
  const { onSheet, widthMm, heightMm, share } = leftover;
  const sheet = `${kindOf(stock, sheets[onSheet]?.sheet ?? "")} ${onSheet + 1}`;
  return `${sizeText(widthMm, heightMm)}, ${trimmed(share * 100, 1)} % of ${sheet}`;
}

interface Figures {
  readonly estimate: Pick<Estimate, "currency">;
  readonly figure: (id: string) => FigureRecord;
}

/** What is to be kept of one of a stock's sheets, for who cuts it. */
export function keptTexts(
  stock: NestedStock,
  index: number,
  { estimate: { currency }, figure }: Figures,
): readonly string[] {
  const { leftover } = stock;
  if (leftover?.onSheet !== index) return [];
  const worth = moneyText(new Amount(figure(stockId(stock, "leftover.worth")).value), currency);
  const size = sizeText(leftover.widthMm, leftover.heightMm);
  return [
    `keep for the shelf: ${size} in one piece, by its area ${worth} ${currency.code} of the sheet's price`,
  ];
}
