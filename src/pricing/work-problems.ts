import { jobFileInDoubt, listInDoubt, mayHold } from "../job/doubts.ts";
import type { Doubts } from "../job/doubts.ts";
import type { HandWorkUse, Part, Tables, TaskBasis, TaskRow } from "../job/types.ts";
import { errorAt, inColumn, inFile, warningAt } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { learningModel } from "./learning.ts";
import { goesByArea, isPainted, tasksOf } from "./tasks.ts";
import type { MeasuredJob } from "./types.ts";

/** Hand work that would be left out or counted wrong: found before the long work begins. */
export function handWorkProblems(measured: MeasuredJob, doubts: Doubts): readonly Problem[] {
  const { job, tables } = measured;
  const noTask = job.handWork.length === 0 && tables.tasks.length === 0;
  return [
    ...(noTask && !mayHold(doubts, "tasks.csv", {}) ? [noTasks()] : []),
    ...missingRates(measured, doubts),
    ...missingModel(measured, doubts),
    ...job.handWork.flatMap((use) => partNotUsed(use, tables)),
    ...job.handWork.flatMap((use) => nothingToWork(use, measured, doubts)),
    ...unsprayed(measured, doubts),
  ];
}

function noTasks(): Problem {
  return errorAt(inFile("tasks.csv"), {
    code: "no-tasks",
    found: "",
    expected: "a row for each task of hand work: this job does not list its own",
    mend: "Fill the table, or list the job's tasks in its hand-work.csv",
  });
}

/** A rate that is missing is a problem, never zero. Listed tasks are checked with the job. */
function missingRates({ job, tables }: MeasuredJob, doubts: Doubts): readonly Problem[] {
  const known = new Set(tables.rates.map(({ id }) => id));
  return tasksOf({ job, tables }).flatMap(({ task: { rate, place }, use }) =>
    use !== null || known.has(rate) || mayHold(doubts, "rates.csv", { id: rate })
      ? []
      : errorAt(inColumn(place, "rate"), {
          code: "unknown-rate",
          found: rate,
          expected: "a rate of the price table rates.csv",
          mend: "Add it to rates.csv, or name another rate",
        }),
  );
}

/** Two models of learning give two prices: which of them holds is never guessed. */
function missingModel({ job, tables }: MeasuredJob, doubts: Doubts): readonly Problem[] {
  const first = tasksOf({ job, tables }).find(({ task }) => task.learningPercent !== null);
  const said = learningModel({ job, tables }) !== null || jobFileInDoubt(doubts, "price");
  if (first === undefined || said || mayHold(doubts, "settings.csv", { id: "learning_model" }))
    return [];
  const { id, place, learningPercent } = first.task;
  return [
    errorAt(inColumn(place, "learning_percent"), {
      code: "no-learning-model",
      found: `${learningPercent ?? 0} for ${id}`,
      expected:
        "a learning_model that says what gets shorter: the time of each unit, or the average of all",
      mend: "Add a row learning_model to settings.csv, or under price: in job.yaml, unit or cumulative average",
    }),
  ];
}

/** What is counted by these has nothing to do with a part. */
const WITHOUT_PART: ReadonlySet<TaskBasis> = new Set(["order", "piece", "sheet", "saw cut"]);

function partNotUsed({ task, part, place }: HandWorkUse, tables: Tables): readonly Problem[] {
  const row = tables.tasks.find(({ id }) => id === task);
  if (part === null || !row || !WITHOUT_PART.has(row.basis)) return [];
  return [
    errorAt(inColumn(place, "part"), {
      code: "part-not-used",
      found: part,
      expected: `an empty cell: ${task} is counted by ${row.basis}, not by part`,
      mend: "Empty the cell, or list a task that is counted by part, area, edge, hole or slot",
    }),
  ];
}

/** Listed by the job, and yet there is nothing that it is counted by. */
function nothingToWork(
  use: HandWorkUse,
  measured: MeasuredJob,
  doubts: Doubts,
): readonly Problem[] {
  const task = measured.tables.tasks.find(({ id }) => id === use.task);
  if (!task || use.quantity === 0 || hasWork(task, use, measured, doubts)) return [];
  return [
    warningAt(inColumn(use.place, "task"), {
      code: "no-work",
      found: `${task.id}, counted by ${task.basis}`,
      expected: WORKED_ON[task.basis],
      mend: "Remove the row, or correct the part or its finish: as it stands it costs nothing",
    }),
  ];
}

/** Also where it can not be told, because what it would be counted by could not be read. */
function hasWork(
  task: TaskRow,
  { part: name }: HandWorkUse,
  { job, parts }: MeasuredJob,
  doubts: Doubts,
): boolean {
  if (task.basis === "saw cut") return job.lengths.length > 0 || listInDoubt(doubts, "lengths.csv");
  if (!goesByArea(task) && task.basis !== "hole" && task.basis !== "slot") return true;
  const meant = parts.filter(({ part }) => name === null || part.name === name);
  const unread = name === null ? doubts.parts : meant.length === 0;
  if (task.basis === "hole")
    return unread || meant.some(({ geometry }) => geometry.roundHoles.length > 0);
  if (task.basis === "slot") return unread || meant.some(({ slots }) => slots > 0);
  return unread || meant.some(({ part }) => isPainted(part));
}

const WORKED_ON: Readonly<Record<TaskBasis, string>> = {
  order: "an order",
  piece: "pieces",
  part: "parts",
  m2: "a part with a finish",
  "coat m2": "a part with a finish",
  "edge m": "cut edges",
  hole: "round holes",
  slot: "slots that a sheet of the job stands in, of a material in fits.csv",
  sheet: "sheets",
  "saw cut": "rows in lengths.csv",
};

/** Paint that is bought and that nobody is paid to put on. */
function unsprayed({ job, tables, parts }: MeasuredJob, doubts: Doubts): readonly Problem[] {
  const named = job.handWork.every(({ task }) => tables.tasks.some(({ id }) => id === task));
  if (!named || listInDoubt(doubts, "hand-work.csv") || mayHold(doubts, "tasks.csv", {})) return [];
  const sprayed = tasksOf({ job, tables }).filter(({ task }) => goesByArea(task));
  const bare = parts
    .map(({ part }) => part)
    .filter(({ finish }) => tables.finishes.some(({ id }) => id === finish))
    .filter(({ name }) => !sprayed.some((doing) => doing.parts.some((part) => part.name === name)));
  const [first] = bare;
  if (first === undefined) return [];
  return [
    warningAt(inColumn(first.place, "finish"), {
      code: "unsprayed",
      found: bare.map(finishText).join(", "),
      expected: "a task counted by m2 or coat m2 for every part with a finish, such as spraying",
      mend: "List the task in hand-work.csv, or make it usual in tasks.csv: now paint is bought and no hour spent on it",
    }),
  ];
}

function finishText({ finish, name }: Part): string {
  return `${finish} on ${name}`;
}
