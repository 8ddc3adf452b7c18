import { checkJob } from "../../estimate.ts";
import type { CommandArguments } from "../arguments.ts";
import { exitFor } from "../exit.ts";
import type { ExitCode } from "../exit.ts";
import { loadInput } from "../load.ts";
import { sayJsonProblems } from "../report.ts";
import { counted } from "../../names.ts";
import { isError, sentence } from "../../problem.ts";
import type { Shell } from "../shell.ts";

/** `check JOB`: every problem that can be known without nesting. Here the problems are the result. */
export async function check(args: CommandArguments, shell: Shell): Promise<ExitCode> {
  const input = await loadInput(args);
  const problems = [...input.problems, ...(input.value ? checkJob(input.value) : [])];
  if (args.json) sayJsonProblems(problems, shell);
  else {
    for (const problem of problems) shell.out(`${problem.severity}: ${sentence(problem)}\n`);
    const errors = problems.filter(isError).length;
    const warnings = problems.length - errors;
    shell.out(`${counted(errors, "error")}, ${counted(warnings, "warning")}.\n`);
  }
  return exitFor(problems);
}
