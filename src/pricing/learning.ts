import type { FigureSheet } from "../figure.ts";
import type { FormulaName } from "../formulas.ts";
import type { Job, Rules, Tables, TaskRow } from "../job/types.ts";
import { placeText } from "../problem.ts";
import { cell, slug } from "./ledger.ts";
import type { PricingInput } from "./types.ts";

/**
 * Hand work that is repeated with every piece gets quicker: with b = log2(rate), either each unit
 * takes T(n) = T1 n^b (unit model, Crawford), or the average of all does (cumulative average model,
 * Wright 1936; both in Hirschmann 1964). Textbooks warn against mixing them, so a job has one. A
 * machine learns nothing.
 */

interface Model {
  readonly formula: FormulaName;
  readonly name: string;
}

const MODELS: Readonly<Record<NonNullable<Rules["learning_model"]>["word"], Model>> = {
  unit: { formula: "learned by the unit", name: "unit model (Crawford): T(n) = T1 n^b" },
  "cumulative average": {
    formula: "learned by the average",
    name: "cumulative average model (Wright 1936): average of n = T1 n^b",
  },
};

/** The job's own choice, else that of the tables. */
export function learningModel({
  job,
  tables,
}: {
  readonly job: Job;
  readonly tables: Tables;
}): Rules["learning_model"] {
  return job.rules.learning_model ?? tables.rules.learning_model;
}

/**
 * Average time of all pieces over that of the first.
 * @returns the figure's id; null for a task that nobody gets quicker at.
 */
export function addLearning(sheet: FigureSheet, input: PricingInput, task: TaskRow): string | null {
  const chosen = learningModel(input);
  if (task.learningPercent === null || chosen === null) return null;
  const id = (what: string): string => `task.${slug(task.id)}.${what}`;
  if (sheet.has(id("average"))) return id("average");
  const model = MODELS[chosen.word];
  const percent = sheet.given(
    id("learning"),
    `${task.description}, time of a piece when their number doubles`,
    "percent",
    task.learningPercent,
    cell(task, "learning_percent"),
  );
  const exponent = sheet.derived(
    id("exponent"),
    `${task.description}, b of its learning curve`,
    "ratio",
    "learning exponent",
    [percent],
  );
  const learned = sheet.derived(
    id("learned"),
    `${task.description}, all pieces in times of the first`,
    "pcs",
    model.formula,
    ["job.pieces", exponent],
    `${model.name}; ${placeText(chosen.place)}`,
  );
  const label = `${task.description}, average piece over the first`;
  return sheet.derived(id("average"), label, "ratio", "quotient", [learned, "job.pieces"]);
}
