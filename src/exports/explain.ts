import type { Estimate, FigureRecord } from "../estimate-data.ts";
import { counted } from "../names.ts";
import { formulaText, sourceText, valueText } from "./figure-text.ts";
import { columns } from "./wrap.ts";

type Figures = Pick<Estimate, "figures" | "currency">;

/**
 * The tree under a figure, a line for each: value, formula, and at the leaves the file, row and
 * column. A figure that was told further up is not unfolded again; what lies deeper than can be taken
 * in is counted where it is cut off, and can be asked for by the id that stands there.
 * @throws RangeError when there is no such figure.
 */
export function explainFigure(
  estimate: Figures,
  id: string,
  mostLines = MOST_LINES,
): readonly string[] {
  let shown = treeLines(estimate, id, 1);
  for (let depth = 2; shown.some(({ cut }) => cut); depth += 1) {
    const deeper = treeLines(estimate, id, depth);
    if (deeper.length > mostLines) break;
    shown = deeper;
  }
  const cut = shown.some((line) => line.cut) ? ["", DEEPER] : [];
  return [...shown.map(({ text }) => text), ...cut];
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

/**
 * Which figures there are, by the first word of their ids, from the price down: of each group first
 * those that the group comes to, then those that the most stands under.
 */
export function figureList({ figures, currency }: Figures): readonly string[] {
  const below = new Map(figures.map(({ id }) => [id, explanation({ figures }, id).length]));
  const weight = ({ id }: FigureRecord): number => below.get(id) ?? 0;
  const groups = [...new Set(figures.map(({ id }) => groupOf(id)))]
    .map((name) => ({ name, its: figures.filter(({ id }) => groupOf(id) === name) }))
    .map((group) => ({ ...group, most: Math.max(...group.its.map(weight)) }))
    .toSorted((one, other) => other.most - one.most);
  const blocks = groups.map(({ name, its }) => {
    const used = new Set(its.flatMap(inputsOf));
    const [outcomes, others] = [
      its.filter(({ id }) => !used.has(id)),
      its.filter(({ id }) => used.has(id)),
    ];
    const kept = [...outcomes, ...others.toSorted((one, other) => weight(other) - weight(one))];
    const shown = kept.slice(0, MOST_OF_A_GROUP);
    const rest = its.length - shown.length;
    const more = rest > 0 ? [`  and ${rest} more: ask for ${name}`] : [];
    const head = `${name}: ${counted(its.length, "figure")}`;
    return [head, ...figureRows(shown, currency.code), ...more, ""];
  });
  return [...blocks.flat(), `${counted(figures.length, "figure")} in all; ${ALL}`];
}

/**
 * All figures whose ids begin with a word or several: `machine`, `hardware.m5x20-bolt`; in the order in
 * which they are worked out. Empty where there are none.
 */
export function figuresOfGroup(
  { figures }: Pick<Estimate, "figures">,
  group: string,
): readonly FigureRecord[] {
  return figures.filter(({ id }) => id.startsWith(`${group}.`));
}

/** Every one of some figures, with its value. */
export function groupList(
  its: readonly FigureRecord[],
  group: string,
  currency: string,
): readonly string[] {
  return [`${group}: ${counted(its.length, "figure")}`, ...figureRows(its, currency)];
}

function figureRows(its: readonly FigureRecord[], currency: string): readonly string[] {
  return columns(
    its.map((one) => [`  ${one.id}`, valueText(one, currency), one.label]),
    [1],
  );
}

/** The first word of an id. */
function groupOf(id: string): string {
  return id.split(".")[0] ?? id;
}

function inputsOf({ origin }: FigureRecord): readonly string[] {
  return origin.kind === "given" ? [] : origin.inputs;
}

/** A screen or two. */
const MOST_LINES = 40;
const MOST_OF_A_GROUP = 16;
const ALL = "costing.csv has them all, with formula and source.";
const DEEPER = `Ask for an id that has more below it to see the rest; ${ALL}`;

interface TreeLine {
  readonly text: string;
  /** Whether there is more below it that is not shown. */
  readonly cut: boolean;
}

function treeLines({ figures, currency }: Figures, id: string, depth: number): readonly TreeLine[] {
  const byId = new Map(figures.map((figure) => [figure.id, figure]));
  const told = new Set<string>();
  const linesOf = (figureId: string, level: number): readonly TreeLine[] => {
    const figure = byId.get(figureId);
    if (!figure) throw new RangeError(`there is no figure "${figureId}"`);
    const head = `${"  ".repeat(level)}${lineOf(figure, currency.code)}`;
    if (told.has(figureId)) return [{ text: `${head} (see above)`, cut: false }];
    const inputs = [...new Set(inputsOf(figure))];
    if (inputs.length > 0 && level >= depth) {
      const below = explanation({ figures }, figureId).length - 1;
      return [{ text: `${head}${reasonOf(figure)}  (+${below} below)`, cut: true }];
    }
    told.add(figureId);
    const first = { text: `${head}${reasonOf(figure)}`, cut: false };
    return [first, ...inputs.flatMap((input) => linesOf(input, level + 1))];
  };
  return linesOf(id, 0);
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
