import type { HandWorkUse, Job, Part, Tables, TaskRow } from "../job/types.ts";

/** Which hand work a job has: what it lists, and what is usual beside it. */

/** One task of the job. */
export interface Doing {
  readonly task: TaskRow;
  /** The row that lists it; null for a usual task. */
  readonly use: HandWorkUse | null;
  /** What it is counted over, where it goes by part, area or hole. */
  readonly parts: readonly Part[];
}

/**
 * The listed tasks, then the usual ones that the list says nothing of: a short list adds work and
 * never takes any away in silence. A usual task that is listed for some parts stays for the others;
 * it is left out by a row that says 0 times.
 */
export function tasksOf({ job, tables }: { job: Job; tables: Tables }): readonly Doing[] {
  const listed = job.handWork.flatMap((use) => {
    const task = tables.tasks.find(({ id }) => id === use.task);
    const parts = partsMeant(use, job);
    return task && use.quantity > 0 && parts.length > 0 ? [{ task, use, parts }] : [];
  });
  const holds: Readonly<Record<TaskRow["usual"], boolean>> = {
    no: false,
    always: true,
    painted: job.parts.some(isPainted),
    lengths: job.lengths.length > 0,
  };
  const usual = tables.tasks
    .filter((task) => holds[task.usual])
    .flatMap((task) => asUsual(task, job));
  return [...listed, ...usual];
}

/** The part it names; else all that no other row names with the same task. */
function partsMeant(use: HandWorkUse, { handWork, parts }: Job): readonly Part[] {
  if (use.part !== null) return parts.filter(({ name }) => name === use.part);
  const own = new Set(handWork.filter(({ task }) => task === use.task).map(({ part }) => part));
  return parts.filter(({ name }) => !own.has(name));
}

export function isPainted({ finish }: Part): boolean {
  return finish !== null;
}

/** Counted by the area that a finish covers. */
export function goesByArea({ basis }: TaskRow): boolean {
  return basis === "m2" || basis === "coat m2";
}

/** For all parts that the list does not name with this task; none when there is nothing left. */
function asUsual(task: TaskRow, { handWork, parts }: Job): readonly Doing[] {
  const named = handWork.filter((use) => use.task === task.id).map(({ part }) => part);
  if (named.length === 0) return [{ task, use: null, parts }];
  if (named.includes(null)) return [];
  const others = parts.filter(({ name }) => !named.includes(name));
  const counted = goesByArea(task) ? others.filter(isPainted) : others;
  return counted.length === 0 ? [] : [{ task, use: null, parts: others }];
}
