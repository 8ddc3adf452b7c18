import type { EstimateInput } from "../estimate-data.ts";
import type { Aide } from "../nesting/separation/lanes.ts";
import type { Checked, Problem } from "../problem.ts";
import type { Work } from "../work.ts";
import type { CommandArguments } from "./arguments.ts";
import { drive } from "./drive.ts";
import { EXIT, exitFor } from "./exit.ts";
import type { Ending, ExitCode } from "./exit.ts";
import { Interruption } from "./interruption.ts";
import { loadInput } from "./load.ts";
import { refuse, sayProblems } from "./report.ts";
import type { Shell } from "./shell.ts";

/**
 * The way of every command that works a job out: load, work, say the problems, give the answer.
 * @param say writes the answer to stdout, as text or, with `--json`, as one document.
 * @param block what would keep the answer from being said, asked before the long work.
 */
export async function answer<Result, Best>(
  args: CommandArguments,
  shell: Shell,
  begin: (input: EstimateInput, aide: Aide | null) => Work<Checked<Result>, Best>,
  say: (result: Result) => Promise<ExitCode> | ExitCode,
  block: () => Promise<Problem | null> = async () => Promise.resolve(null),
): Promise<Ending> {
  const input = await loadInput(args);
  if (!input.value) return refuse(input.problems, args.json, shell);
  const blocked = await block();
  if (blocked !== null) return refuse([...input.problems, blocked], args.json, shell);
  const interruption = new Interruption(shell);
  const aide = shell.aide();
  try {
    const worked = await drive(begin(input.value, aide), args.seconds, shell, interruption);
    const problems = [...input.problems, ...worked.problems];
    const exit = exitFor(problems);
    if (worked.value === null) {
      refuse(problems, args.json, shell);
      return interruption.signal ?? exit;
    }
    sayProblems(problems, shell);
    const said = await say(worked.value);
    return interruption.signal ?? (exit === EXIT.done ? said : exit);
  } finally {
    aide?.close();
    interruption.stop();
  }
}
