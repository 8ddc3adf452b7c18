import type { TaskRow } from "../job/types.ts";
import type { FigureSheet, FigureSpread } from "../figure.ts";
import type { Amount } from "../money.ts";
import { addAttending, addRate, ATTENDING } from "./attending.ts";
import { cell, givenOnce, jobCell, slug, spreadOf, uniqueSlugs } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { addLearning } from "./learning.ts";
import { tasksOf } from "./tasks.ts";
import type { Doing } from "./tasks.ts";
import { workWords } from "./quote-words.ts";
import type { PricingInput, TaskDone } from "./types.ts";
import { addWorkCount } from "./work-counts.ts";

type Identify = (what: string) => string;

/** Minutes of hand work by what it is counted by, with its set-up, at its hourly rate. */
export function addHandWork(ledger: Ledger, input: PricingInput): void {
  const doings = tasksOf(input);
  const slugs = uniqueSlugs([
    ATTENDING,
    ...doings.map(({ task, use }) => `${task.id} ${use?.part ?? ""}`),
  ]);
  addAttending(ledger, input);
  for (const [index, doing] of doings.entries())
    addTask(ledger, input, doing, (what) => `work.${slugs[index + 1]}.${what}`);
}

function addTask(ledger: Ledger, input: PricingInput, doing: Doing, id: Identify): void {
  const { sheet, costs, making } = ledger;
  const { task } = doing;
  const name = nameOf(doing, input);
  const count = addWorkCount(ledger, input, doing, id("count"));
  const often = addOften(sheet, doing, { id, name });
  const figure = addTime(sheet, input, doing, { id, name, count, often });
  making.tasks.push(taskDone(doing, count, figure));
  sheet.derived(id("hours"), name, "h", "minutes to hours", [figure]);
  const inputs = [figure, addRate(sheet, input, task.rate)];
  const cost = sheet.derived(id("cost"), name, "currency", "minutes at hourly rate", inputs);
  costs.push({
    section: task.section,
    of: "labour",
    description: workWords(task.section, input),
    basis: sheet.value(cost).isZero() ? "" : task.onQuote,
    cost,
    each: null,
  });
  addSupplies(ledger, input, doing, { id, name, count, often });
}

/** What is used up with it: once for each unit, as often as it is done; nobody learns to use less. */
function addSupplies(
  { sheet, costs }: Ledger,
  input: PricingInput,
  { task }: Doing,
  { id, name, count, often }: Named,
): void {
  if (task.suppliesEach === null) return;
  const each = givenOnce(
    sheet,
    `task.${slug(task.id)}.supplies`,
    `${task.description}, used up per ${task.basis}`,
    "currency",
    task.suppliesEach,
    cell(task, "supplies_each"),
  );
  const inputs = [each, count, often].filter((one) => one !== null);
  const cost = sheet.derived(id("supplies"), `${name}, used up`, "currency", "product", inputs);
  const description = workWords(task.section, input);
  costs.push({
    section: task.section,
    of: "materials",
    description,
    basis: "",
    cost,
    each: null,
  });
}

interface Named {
  readonly id: Identify;
  readonly name: string;
  /** Figure of how many units there are; null for once an order. */
  readonly count: string | null;
  /** Figure of how many times over; null for once. */
  readonly often: string | null;
}

/** The units one after the other, and before the first of them what has to be set up. */
function addTime(sheet: FigureSheet, input: PricingInput, doing: Doing, named: Named): string {
  const { id, name, count, often } = named;
  const minutes = addMinutes(sheet, doing, named);
  const average = addLearning(sheet, input, doing.task);
  const inputs = [minutes, count, often, average].filter((one) => one !== null);
  const setup = addSetup(sheet, doing.task);
  if (setup === null) return sheet.derived(id("time"), name, "min", "product", inputs);
  const run = sheet.derived(id("run"), `${name}, set-up left out`, "min", "product", inputs);
  const time = sheet.derived(id("time"), name, "min", "sum", [setup, run]);
  sheet.derived(
    id("each"),
    `${name}, for each ${input.job.pieceName}`,
    "min",
    "quotient",
    [time, "job.pieces"],
    "its own minutes and its share of the set-up: set-up / n + run",
  );
  return time;
}

function addMinutes(sheet: FigureSheet, { task, use }: Doing, { id, name }: Named): string {
  if (use?.minutes)
    return sheet.given(
      id("minutes"),
      `${name}, minutes per ${task.basis}`,
      "min",
      use.minutes,
      jobCell(use.place, "minutes"),
      inProportion(spreadOf(task.minutes), task.minutes.likely, use.minutes),
    );
  return givenOnce(
    sheet,
    `task.${slug(task.id)}.minutes`,
    `${task.description}, minutes per ${task.basis}`,
    "min",
    task.minutes.likely,
    cell(task, "minutes"),
    spreadOf(task.minutes),
  );
}

/** The job's own minutes are as uncertain as the table's, in proportion. */
function inProportion(
  spread: FigureSpread | null,
  likely: number,
  minutes: Amount,
): FigureSpread | null {
  if (spread === null || likely === 0) return null;
  const scaled = (end: Amount): Amount => minutes.times(end).div(likely);
  return { low: scaled(spread.low), high: scaled(spread.high) };
}

/** Null where it is done once. */
function addOften(
  sheet: FigureSheet,
  { use }: Doing,
  { id, name }: Pick<Named, "id" | "name">,
): string | null {
  if (use === null || use.quantity === 1) return null;
  return sheet.given(
    id("times"),
    `${name}, times over`,
    "pcs",
    use.quantity,
    jobCell(use.place, "qty"),
  );
}

/** Once for the order: of several rows with the same task, the first has it. */
function addSetup(sheet: FigureSheet, task: TaskRow): string | null {
  const id = `task.${slug(task.id)}.setup`;
  if (task.setupMinutes === null || sheet.has(id)) return null;
  const source = cell(task, "setup_minutes");
  return sheet.given(id, `${task.description}, set-up`, "min", task.setupMinutes, source);
}

/** What the bench gets to know of it. */
function taskDone({ task, use }: Doing, count: string | null, figure: string): TaskDone {
  const { id, basis, hazard, section } = task;
  const [note, times] = [use?.note ?? "", use?.quantity ?? 1];
  return { task: id, basis, hazard, section, note, count, times, figure };
}

/** With the parts it is for, unless it is for all of them. */
function nameOf({ task, use, parts }: Doing, { job }: PricingInput): string {
  if (use?.part) return `${task.description} (${use.part})`;
  return parts.length < job.parts.length ? `${task.description} (other parts)` : task.description;
}
