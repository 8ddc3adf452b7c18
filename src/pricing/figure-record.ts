import type { Figure } from "../figure.ts";
import { Amount } from "../money.ts";
import type { FigureRecord } from "./types.ts";

/** Figures as an estimate keeps them: plain data, decimals as text. */

export function recordOf({ value, spread, ...figure }: Figure): FigureRecord {
  return {
    ...figure,
    value: value.toString(),
    ...(spread
      ? { spread: { ...spread, low: spread.low.toString(), high: spread.high.toString() } }
      : {}),
  };
}

/** As it was before it was kept. */
export function figureOf({ value, spread, ...figure }: FigureRecord): Figure {
  return {
    ...figure,
    value: new Amount(value),
    ...(spread
      ? { spread: { ...spread, low: new Amount(spread.low), high: new Amount(spread.high) } }
      : {}),
  };
}
