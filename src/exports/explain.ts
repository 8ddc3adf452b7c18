import type { Estimate, FigureRecord } from "../estimate-data.ts";
import { formulaText, sourceText, valueText } from "./figure-text.ts";

/**
 * The tree under a figure, a line for each: value, formula, and at the leaves the file, row and
 * column. A figure that was explained further up is not unfolded again.
 * @throws RangeError when there is no such figure.
 */
export function explainFigure(
  { figures, currency }: Pick<Estimate, "figures" | "currency">,
  id: string,
): readonly string[] {
  const byId = new Map(figures.map((figure) => [figure.id, figure]));
  const shown = new Set<string>();
  const lines: string[] = [];
  const unfold = (figureId: string, indent: string): void => {
    const figure = byId.get(figureId);
    if (!figure) throw new RangeError(`there is no figure "${figureId}"`);
    const again = shown.has(figureId) && figure.origin.kind === "derived";
    lines.push(
      `${indent}${lineOf(figure, currency.code)}${again ? " (see above)" : reasonOf(figure)}`,
    );
    if (again || figure.origin.kind === "given") return;
    shown.add(figureId);
    for (const input of new Set(figure.origin.inputs)) unfold(input, `${indent}  `);
  };
  unfold(id, "");
  return lines;
}

/** The figures under a figure and itself, inputs before what uses them. */
export function explanation(
  { figures }: Pick<Estimate, "figures">,
  id: string,
): readonly FigureRecord[] {
  const wanted = new Set([id]);
  for (const { id: one, origin } of figures.toReversed())
    if (wanted.has(one) && origin.kind === "derived")
      for (const input of origin.inputs) wanted.add(input);
  return figures.filter((figure) => wanted.has(figure.id));
}

function lineOf(figure: FigureRecord, currency: string): string {
  return `${figure.label} = ${valueText(figure, currency)}  [${figure.id}]`;
}

function reasonOf(figure: FigureRecord): string {
  if (figure.origin.kind === "given") return `  <- ${sourceText(figure)}`;
  const because = figure.origin.because === "" ? "" : ` (${figure.origin.because})`;
  const short = figure.origin.inputs.length > 2 && figure.origin.formula === "sum";
  return `  = ${short ? `sum of ${figure.origin.inputs.length} figures` : formulaText(figure)}${because}`;
}
