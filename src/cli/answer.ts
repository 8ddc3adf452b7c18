import type { EstimateInput } from "../estimate-data.ts";
import type { Checked } from "../problem.ts";
import type { Work } from "../work.ts";
import type { CommandArguments } from "./arguments.ts";
import { drive } from "./drive.ts";
import { exitFor } from "./exit.ts";
import type { ExitCode } from "./exit.ts";
import { loadInput } from "./load.ts";
import { sayJsonProblems, sayProblems } from "./report.ts";
import type { Shell } from "./shell.ts";

/**
 * The way of every command that works a job out: load, work, say the problems, give the answer.
 * @param say writes the answer to stdout, as text or, with `--json`, as one document.
 */
export async function answer<Result, Best>(
  args: CommandArguments,
  shell: Shell,
  begin: (input: EstimateInput) => Work<Checked<Result>, Best>,
  say: (result: Result) => Promise<ExitCode> | ExitCode,
): Promise<ExitCode> {
  const input = await loadInput(args);
  const worked: Checked<Result> = input.value
    ? drive(begin(input.value), args.seconds, shell)
    : { value: null, problems: [] };
  const problems = [...input.problems, ...worked.problems];
  sayProblems(problems, shell);
  const exit = exitFor(problems);
  if (worked.value === null) {
    if (args.json) sayJsonProblems(problems, shell);
    return exit;
  }
  const said = await say(worked.value);
  return exit === 0 ? said : exit;
}
