import { logText } from "../../exports/log-text.ts";
import { readIfThere, shopLogPath } from "../../files/shop-log.ts";
import { errorAt, inFile } from "../../problem.ts";
import type { Problem } from "../../problem.ts";
import { logReport } from "../../stages/log-report.ts";
import type { CommandArguments } from "../arguments.ts";
import { asTyped } from "../as-typed.ts";
import { exitFor } from "../exit.ts";
import type { ExitCode } from "../exit.ts";
import { loadInput } from "../load.ts";
import { refuse, sayJson, sayProblems } from "../report.ts";
import type { Shell } from "../shell.ts";

/** `log JOB`: what all jobs of the log took against their estimates, and which feeds would follow. */
export async function log(
  args: CommandArguments & { readonly log: string | null },
  shell: Shell,
): Promise<ExitCode> {
  const input = await loadInput(args);
  if (!input.value) return refuse(input.problems, args.json, shell);
  const path = shopLogPath(args.job, args.log);
  const read = await readIfThere(path);
  if (read === null) return refuse([noLog(path, args.job)], args.json, shell);
  const report = read.value && logReport(input.value, read.value);
  const problems = [...input.problems, ...read.problems, ...(report?.problems ?? [])];
  if (!report?.value) return refuse(problems, args.json, shell);
  sayProblems(problems, shell);
  if (args.json) sayJson(report.value, shell);
  else shell.out(logText(report.value));
  return exitFor(problems);
}

function noLog(path: string, job: string): Problem {
  return errorAt(inFile(path), {
    code: "no-log",
    found: "",
    expected: "the log of what jobs took",
    mend: `Begin it with a first job: tallywright record ${asTyped(job)}`,
  });
}
