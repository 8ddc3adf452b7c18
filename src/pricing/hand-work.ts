import type { Part } from "../job/types.ts";
import type { FigureSheet } from "../figure.ts";
import { cell, givenOnce, jobCell, slug, uniqueSlugs } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { coatedArea, finishedArea } from "./paint.ts";
import { partId } from "./parts.ts";
import { nestedFrom } from "./sheets.ts";
import { lengthIds } from "./stock-lengths.ts";
import { tasksOf } from "./tasks.ts";
import type { Doing } from "./tasks.ts";
import { workWords } from "./quote-words.ts";
import type { PricedStock, PricingInput, TaskDone } from "./types.ts";

type Identify = (what: string) => string;

/** Minutes of hand work by order, piece, part, area, hole, sheet or saw cut, at its hourly rate. */
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

const ATTENDING = "attending";

function attendingId(what: string): string {
  return `work.${ATTENDING}.${what}`;
}

/**
 * Whoever has to stay with the machine works as long as it does: running, loading and set-up (a
 * college course has the operator stay for the whole job).
 */
function addAttending({ sheet, costs }: Ledger, input: PricingInput): void {
  const { attended } = input.job;
  if (attended === null) return;
  const label = "Staying with the machine";
  const source = { kind: "cell", place: attended.place, cited: null } as const;
  const people = sheet.given(attendingId("people"), "people who stay with it", "pcs", 1, source);
  sheet.derived(attendingId("time"), label, "min", "product", ["machine.minutes", people]);
  sheet.derived(attendingId("hours"), label, "h", "minutes to hours", [attendingId("time")]);
  const inputs = [attendingId("time"), addRate(sheet, input, attended.rate)];
  const cost = sheet.derived(
    attendingId("cost"),
    label,
    "currency",
    "minutes at hourly rate",
    inputs,
  );
  const description = workWords("Cutting", input);
  costs.push({ section: "Cutting", description, basis: "", cost, each: null });
}

function addRate(sheet: FigureSheet, { tables }: PricingInput, id: string): string {
  const rate = tables.rates.find((row) => row.id === id);
  if (!rate) throw new RangeError(`no rate "${id}": it was to be refused beforehand`);
  return givenOnce(
    sheet,
    `rate.${slug(rate.id)}`,
    `${rate.description}, an hour`,
    "currency/h",
    rate.perHour,
    cell(rate, "per_hour"),
  );
}

function addTask(ledger: Ledger, input: PricingInput, doing: Doing, id: Identify): void {
  const { sheet, costs, making } = ledger;
  const { task, use } = doing;
  const name = nameOf(doing, input);
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
  const count = addCount(ledger, input, doing, id);
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
  const figure = sheet.derived(id("time"), name, "min", "product", [
    minutes,
    ...(count === null ? [] : [count]),
    ...often,
  ]);
  making.tasks.push(taskDone(doing, count, figure));
  sheet.derived(id("hours"), name, "h", "minutes to hours", [id("time")]);
  const perHour = addRate(sheet, input, task.rate);
  const cost = sheet.derived(id("cost"), name, "currency", "minutes at hourly rate", [
    id("time"),
    perHour,
  ]);
  costs.push({
    section: task.section,
    description: workWords(task.section, input),
    basis: sheet.value(cost).isZero() ? "" : task.onQuote,
    cost,
    each: null,
  });
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

/** How many units of the basis there are; null for once an order. */
function addCount(
  ledger: Ledger,
  input: PricingInput,
  { task, parts }: Doing,
  id: Identify,
): string | null {
  const { sheet } = ledger;
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
      what: `sheets ${stock.used.map(({ row }) => `"${row.id}"`).join(" and ")} in the judged nest`,
      from: nestedFrom(input, stock),
    },
  );
}

function present(ids: readonly (string | null)[]): readonly string[] {
  return ids.filter((id) => id !== null);
}
