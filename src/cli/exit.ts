import { isError } from "../problem.ts";
import type { Problem } from "../problem.ts";

/** How the program ends; by signal when interrupted. */
export const EXIT = {
  done: 0,
  faultOfOurs: 1,
  wrongUsage: 2,
  inputHasErrors: 3,
  noFeasiblePlan: 4,
} as const;

export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

/** A command may also end by the signal that interrupted it. */
export type Ending = ExitCode | NodeJS.Signals;

export function exitFor(problems: readonly Problem[]): ExitCode {
  const errors = problems.filter(isError);
  if (errors.length === 0) return EXIT.done;
  return errors.every(({ code }) => code === "does-not-fit")
    ? EXIT.noFeasiblePlan
    : EXIT.inputHasErrors;
}
