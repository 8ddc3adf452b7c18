import type { HandWorkUse, Job, Tables, TaskBasis } from "../job/types.ts";
import { errorAt, inColumn, inFile } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { tasksOf } from "./hand-work.ts";

/** Hand work that would be left out or counted wrong: found before the long work begins. */
export function handWorkProblems(job: Job, tables: Tables): readonly Problem[] {
  const usual = job.handWork.length === 0;
  return [
    ...(usual && tables.tasks.length === 0 ? [noTasks()] : []),
    ...(usual ? missingRates(job, tables) : []),
    ...job.handWork.flatMap((use) => partNotUsed(use, tables)),
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
function missingRates(job: Job, tables: Tables): readonly Problem[] {
  const known = new Set(tables.rates.map(({ id }) => id));
  return tasksOf({ job, tables }).flatMap(({ task }) =>
    known.has(task.rate)
      ? []
      : errorAt(inColumn(task.place, "rate"), {
          code: "unknown-rate",
          found: task.rate,
          expected: "a rate of the price table rates.csv",
          mend: "Add it to rates.csv, or name another rate",
        }),
  );
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
      mend: "Empty the cell, or list a task that is counted by part, area or hole",
    }),
  ];
}
