import type { LineRule, Operation } from "../job/types.ts";
import { plainColour } from "./colour.ts";

/** What a line says about itself, taken from its element and all elements around it. */
export interface LineMarks {
  readonly classes: readonly string[];
  readonly ids: readonly string[];
  /** Names of DXF layers. */
  readonly layers?: readonly string[];
  /** The stroke in effect, as written; empty when there is none. */
  readonly stroke: string;
}

/** By the first rule that fits; a line that no rule speaks of is cut. Null for one to be left out. */
export function operationOf(marks: LineMarks, rules: readonly LineRule[]): Operation | null {
  const operation = ruleFor(marks, rules)?.operation ?? "cut";
  return operation === "leave out" ? null : operation;
}

/** The first rule that fits, or null. */
export function ruleFor(marks: LineMarks, rules: readonly LineRule[]): LineRule | null {
  return rules.find((rule) => fits(marks, rule)) ?? null;
}

/** Whether a line bears what a rule names. */
export function fits(
  { classes, ids, layers, stroke }: LineMarks,
  { by, value }: LineRule,
): boolean {
  if (by === "stroke") return stroke !== "" && plainColour(stroke) === plainColour(value);
  const names = { class: classes, id: ids, layer: layers ?? [] }[by];
  return names.some((name) => name.toLowerCase() === value.trim().toLowerCase());
}
