import type { Figure } from "../figure.ts";

/**
 * The figures of an estimate as they would be without rounding money: what a change does to the price
 * is told as it is, and not as nothing until a step of 10 is full.
 */

/** Money is rounded for the customer's sake; minutes, sheets and cans are rounded for good. */
const ROUNDING: ReadonlySet<string> = new Set(["rounded to step", "rounded up to step"]);

/**
 * The lines of the quote come to the exact price, whatever they are called and however it is shared
 * among them; what stands between that and the net total stays as it is.
 * @param others ids of figures beside the lines that the net total is the sum of, on either side of a
 *   comparison; of one that it is not the sum of here, the value is 0.
 */
export function unrounded(
  figures: readonly Figure[],
  others: readonly string[],
): readonly Figure[] {
  const there = new Set(figures.map(({ id }) => id));
  const beside = others.filter((id) => there.has(id));
  return figures.map((figure): Figure => {
    if (figure.id === LINES) return sumOf(figure, ["price.exact"]);
    if (figure.id === NET) return sumOf(figure, [LINES, ...beside]);
    const { origin, unit } = figure;
    const isRounding = origin.kind === "derived" && ROUNDING.has(origin.formula);
    return isRounding && unit === "currency" ? sumOf(figure, origin.inputs.slice(0, 1)) : figure;
  });
}

/** Ids of what the net total is the sum of beside the lines. */
export function besideLines(figures: readonly Figure[]): readonly string[] {
  const inputsOf = (id: string): readonly string[] => {
    const origin = figures.find((figure) => figure.id === id)?.origin;
    return origin?.kind === "derived" ? origin.inputs : [];
  };
  const lines = inputsOf(LINES);
  return inputsOf(NET).filter((id) => !lines.includes(id));
}

const LINES = "quote.lines";
const NET = "quote.net";

function sumOf(figure: Figure, inputs: readonly string[]): Figure {
  return { ...figure, origin: { kind: "derived", formula: "sum", inputs, because: "" } };
}
