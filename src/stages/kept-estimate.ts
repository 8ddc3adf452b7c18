import type { Estimate, FigureRecord } from "../estimate-data.ts";
import { FORMULAS } from "../formulas.ts";
import { errorAt, inFile } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import type { SourceText } from "../job/types.ts";

/** Of an estimate what it is compared by; the JSON of `quote` has it. */
export type KeptEstimate = Pick<
  Estimate,
  | "jobName"
  | "title"
  | "date"
  | "pieces"
  | "pieceName"
  | "currency"
  | "figures"
  | "quote"
  | "seed"
  | "steps"
>;

/** Reads an estimate as it was written as JSON, today or by an earlier version. */
export function keptEstimate({ name, text }: SourceText): Checked<KeptEstimate> {
  const read = parsed(text);
  if (!isEstimate(read)) return { value: null, problems: [notAnEstimate(name)] };
  const strange = read.figures.find((figure) => !isKnown(figure));
  if (strange !== undefined) return { value: null, problems: [notOurs(name, strange)] };
  return { value: read, problems: [] };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    if (error instanceof SyntaxError) return null;
    throw error;
  }
}

type Fields = Readonly<Record<string, unknown>>;

function isFields(value: unknown): value is Fields {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function isEstimate(value: unknown): value is KeptEstimate {
  return (
    isFields(value) &&
    value["version"] === 1 &&
    hasTexts(value, ["jobName", "title", "pieceName"]) &&
    (value["date"] === null || typeof value["date"] === "string") &&
    ["pieces", "seed", "steps"].every((name) => typeof value[name] === "number") &&
    isCurrency(value["currency"]) &&
    isListOf(value["figures"], isFigure) &&
    isListOf(value["quote"], isLine) &&
    isSheet(value["figures"])
  );
}

function isCurrency(value: unknown): boolean {
  return isFields(value) && hasTexts(value, ["code"]) && Number.isInteger(value["minorDigits"]);
}

function isLine(value: unknown): value is Fields {
  return (
    isFields(value) &&
    hasTexts(value, ["section", "description", "kind"]) &&
    isDecimal(value["amount"])
  );
}

function isFigure(value: unknown): value is FigureRecord {
  return (
    isFields(value) &&
    hasTexts(value, ["id", "label", "unit"]) &&
    isDecimal(value["value"]) &&
    isFields(value["origin"]) &&
    isOrigin(value["origin"])
  );
}

function isOrigin(origin: Fields): boolean {
  if (origin["kind"] === "given") return isSource(origin["source"]);
  const { kind, formula, inputs } = origin;
  return kind === "derived" && typeof formula === "string" && isListOf(inputs, isText);
}

function isText(value: unknown): value is string {
  return typeof value === "string";
}

function isSource(source: unknown): boolean {
  if (!isFields(source)) return false;
  if (source["kind"] === "computed") return isListOf(source["from"], isPlace);
  return (source["kind"] === "cell" || source["kind"] === "measured") && isPlace(source["place"]);
}

function isPlace(place: unknown): place is Fields {
  if (!isFields(place) || typeof place["file"] !== "string") return false;
  const { line, column } = place;
  return (
    (line === null || typeof line === "number") && (column === null || typeof column === "string")
  );
}

/** Figures use only those before them, and the net total is among them. */
function isSheet(figures: readonly FigureRecord[]): boolean {
  const before = new Set<string>();
  for (const { id, origin } of figures) {
    if (origin.kind === "derived" && !origin.inputs.every((input) => before.has(input)))
      return false;
    before.add(id);
  }
  return before.size === figures.length && before.has("quote.net");
}

function hasTexts(fields: Fields, names: readonly string[]): boolean {
  return names.every((name) => typeof fields[name] === "string");
}

function isListOf<T>(value: unknown, is: (item: unknown) => item is T): value is readonly T[] {
  return Array.isArray(value) && value.every(is);
}

function isDecimal(value: unknown): boolean {
  return typeof value === "string" && /^-?\d+(\.\d+)?(e[+-]?\d+)?$/.test(value);
}

function isKnown({ origin }: FigureRecord): boolean {
  return origin.kind === "given" || Object.hasOwn(FORMULAS, origin.formula);
}

function notAnEstimate(name: string): Problem {
  return errorAt(inFile(name), {
    code: "no-estimate",
    found: "something else",
    expected: "an estimate as quote writes it, estimate.json",
    mend: "Name the estimate.json in the folder of a quote, or the folder of a job",
  });
}

function notOurs(name: string, { id, origin }: FigureRecord): Problem {
  return errorAt(inFile(name), {
    code: "unknown-formula",
    found: origin.kind === "derived" ? origin.formula : "",
    expected: `a formula of this version for the figure ${id}`,
    mend: "Write the earlier estimate anew with this version, from the job as it was",
  });
}
