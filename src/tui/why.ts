import type { Estimate, FigureRecord } from "../estimate-data.ts";
import { formulaText, sourceText } from "../exports/figure-text.ts";

/** The tree under a figure as rows that fold; what lies in a folded row is not built. */

export interface WhyRow {
  /** Where it stands in the tree: `0.2.1` is the second input of the third input of the first root. */
  readonly path: string;
  readonly depth: number;
  readonly figure: FigureRecord;
  /** Null for a given figure, which has nothing below it. */
  readonly unfolded: boolean | null;
}

export function whyRows(
  { figures }: Pick<Estimate, "figures">,
  roots: readonly string[],
  unfolded: ReadonlySet<string>,
): readonly WhyRow[] {
  const byId = new Map(figures.map((figure) => [figure.id, figure]));
  const rows: WhyRow[] = [];
  const walk = (id: string, path: string, depth: number): void => {
    const figure = byId.get(id);
    if (!figure) return;
    const inputs = inputsOf(figure);
    const open = unfolded.has(path);
    rows.push({ path, depth, figure, unfolded: inputs.length > 0 ? open : null });
    if (open) inputs.forEach((input, index) => walk(input, `${path}.${index}`, depth + 1));
  };
  roots.forEach((id, index) => walk(id, String(index), 0));
  return rows;
}

/** Every root shows what it is made from, and no more. */
export function firstUnfolded(roots: readonly string[]): ReadonlySet<string> {
  return new Set(roots.map((_, index) => String(index)));
}

export function parentOf(path: string): string {
  return path.replace(/\.?\d+$/, "");
}

/** How a figure comes about, in the words of other figures: its formula, or where it was read. */
export function originText({ figures }: Pick<Estimate, "figures">, figure: FigureRecord): string {
  const { origin } = figure;
  if (origin.kind === "given") return `read from ${sourceText(figure)}`;
  if (origin.inputs.length > 2 && origin.formula === "sum")
    return `= sum of the ${origin.inputs.length} figures below${reasonText(origin)}`;
  const inputs = origin.inputs.map((id) => figures.find((one) => one.id === id)?.label ?? id);
  return `= ${formulaText({ ...figure, origin: { ...origin, inputs } })}${reasonText(origin)}`;
}

function reasonText({ because }: { readonly because: string }): string {
  return because === "" ? "" : ` (${because})`;
}

function inputsOf({ origin }: FigureRecord): readonly string[] {
  return origin.kind === "given" ? [] : [...new Set(origin.inputs)];
}
