import type { HandWorkUse, Part, TaskRow } from "../job/types.ts";
import type { Problem } from "../problem.ts";
import { cell, givenOnce, jobCell, slug, uniqueSlugs } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { coatedArea, finishedArea } from "./paint.ts";
import { partId } from "./parts.ts";
import { nestedFrom } from "./sheets.ts";
import { lengthIds } from "./stock-lengths.ts";
import type { PricedStock, PricingInput } from "./types.ts";

/** One task of the job, whether it lists it or has it as usual. */
interface Doing {
  readonly task: TaskRow;
  readonly use: HandWorkUse | null;
}
type Identify = (what: string) => string;

/** Minutes of hand work by order, piece, part, area, hole, sheet or saw cut, at its hourly rate. */
export function addHandWork(ledger: Ledger, input: PricingInput): void {
  const doings = tasksOf(input);
  const slugs = uniqueSlugs(doings.map(({ task, use }) => `${task.id} ${use?.part ?? ""}`));
  for (const [index, doing] of doings.entries())
    addTask(ledger, input, doing, (what) => `work.${slugs[index]}.${what}`);
}

/** The job's own list where it has one, else the tasks that are usual. */
export function tasksOf({ job, tables }: Pick<PricingInput, "job" | "tables">): readonly Doing[] {
  if (job.handWork.length > 0)
    return job.handWork.flatMap((use) => {
      const task = tables.tasks.find(({ id }) => id === use.task);
      return task ? [{ task, use }] : [];
    });
  const painted = job.parts.some(({ finish }) => finish !== null);
  return tables.tasks
    .filter(({ usual }) => usual === "always" || (usual === "painted" && painted))
    .map((task) => ({ task, use: null }));
}

function addTask(ledger: Ledger, input: PricingInput, { task, use }: Doing, id: Identify): void {
  const { sheet, costs } = ledger;
  const name = use?.part ? `${task.description} (${use.part})` : task.description;
  const minutes = use?.minutes
    ? sheet.given(
        id("minutes"),
        `${name}, minutes per ${task.basis}`,
        "min",
        use.minutes,
        jobCell(use.place, "minutes"),
      )
    : givenOnce(
        sheet,
        `task.${slug(task.id)}.minutes`,
        `${task.description}, minutes per ${task.basis}`,
        "min",
        task.minutes.likely,
        cell(task, "minutes"),
      );
  const count = addCount(ledger, input, { task, use }, id);
  if (use && count !== null && sheet.value(count).isZero())
    ledger.problems.push(nothingToWork(task, use));
  const often =
    use && use.quantity !== 1
      ? [
          sheet.given(
            id("times"),
            `${name}, times over`,
            "pcs",
            use.quantity,
            jobCell(use.place, "qty"),
          ),
        ]
      : [];
  sheet.derived(id("time"), name, "min", "product", [
    minutes,
    ...(count === null ? [] : [count]),
    ...often,
  ]);
  sheet.derived(id("hours"), name, "h", "minutes to hours", [id("time")]);
  const rate = input.tables.rates.find((row) => row.id === task.rate);
  if (!rate) throw new RangeError(`no rate "${task.rate}": it was to be refused beforehand`);
  const perHour = givenOnce(
    sheet,
    `rate.${slug(rate.id)}`,
    `${rate.description}, an hour`,
    "currency/h",
    rate.perHour,
    cell(rate, "per_hour"),
  );
  const cost = sheet.derived(id("cost"), name, "currency", "minutes at hourly rate", [
    id("time"),
    perHour,
  ]);
  costs.push({
    section: task.section,
    description: WORK_LINE[task.section] ?? task.section,
    basis: task.description,
    cost,
    each: null,
  });
}

/** Listed by the job, and yet there is nothing that it is counted by. */
function nothingToWork({ id, basis }: TaskRow, use: HandWorkUse): Problem {
  return {
    code: "no-work",
    severity: "warning",
    ...use.place,
    column: "task",
    found: `${id}, counted by ${basis}`,
    expected: WORKED_ON[basis],
    mend: "Remove the row, or correct the part or its finish: as it stands it costs nothing",
  };
}

const WORKED_ON: Readonly<Record<TaskRow["basis"], string>> = {
  order: "an order",
  piece: "pieces",
  part: "parts",
  m2: "a part with a finish",
  "coat m2": "a part with a finish",
  hole: "round holes",
  sheet: "sheets",
  "saw cut": "rows in lengths.csv",
};

/** Work stands on the quote under its heading, apart from the goods of the same heading. */
const WORK_LINE: Partial<Record<TaskRow["section"], string>> = {
  Materials: "Fetching and preparing material",
  Cutting: "Handling and deburring",
  Finishing: "Sanding, masking and spraying",
  "Fixings and bought-in parts": "Fitting",
  "Making and assembly": "Making and assembly",
  "Design and preparation": "Design and preparation",
  Delivery: "Packing and delivery",
};

/** How many units of the basis there are; null for once an order. */
function addCount(
  ledger: Ledger,
  input: PricingInput,
  { task, use }: Doing,
  id: Identify,
): string | null {
  const { sheet } = ledger;
  const parts = input.parts
    .map(({ part }) => part)
    .filter(({ name }) => !use?.part || name === use.part);
  const sum = (unit: "pcs" | "m2", what: string, ids: readonly string[]): string =>
    sheet.derived(id("count"), `${task.description}: ${what}`, unit, "sum", ids);
  switch (task.basis) {
    case "order":
      return null;
    case "piece":
      return "job.pieces";
    case "part":
      return sum(
        "pcs",
        "parts",
        parts.map(({ name }) => partId(name, "copies")),
      );
    case "m2":
      return sum(
        "m2",
        "finished area",
        present(parts.map((part) => finishedArea(ledger, input, part))),
      );
    case "coat m2":
      return sum(
        "m2",
        "area of all coats",
        present(parts.map((part) => coatedArea(ledger, input, part))),
      );
    case "hole":
      return sum(
        "pcs",
        "round holes",
        parts.map((part) => addPartHoles(ledger, part)),
      );
    case "sheet":
      return sum(
        "pcs",
        "sheets",
        input.stocks.map((stock) => sheetCount(ledger, input, stock)),
      );
    case "saw cut":
      return sum(
        "pcs",
        "saw cuts",
        lengthIds(input.job).map((length) => `${length}.count`),
      );
  }
}

function addPartHoles({ sheet }: Ledger, { name }: Part): string {
  const id = partId(name, "all-holes");
  if (sheet.has(id)) return id;
  return sheet.derived(id, `${name}, round holes in all`, "pcs", "product", [
    partId(name, "holes"),
    partId(name, "copies"),
  ]);
}

function sheetCount({ sheet }: Ledger, input: PricingInput, stock: PricedStock): string {
  const id = `work.sheets.${slug(`${stock.material} ${stock.thicknessMm}`)}`;
  return givenOnce(
    sheet,
    id,
    `${stock.material}, sheets handled`,
    "pcs",
    stock.nest.sheets.length,
    {
      kind: "computed",
      by: "nest",
      what: `sheets "${stock.row.id}" in the judged nest`,
      from: nestedFrom(input, stock),
    },
  );
}

function present(ids: readonly (string | null)[]): readonly string[] {
  return ids.filter((id) => id !== null);
}
