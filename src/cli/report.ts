import { join } from "node:path";
import type { EarlierSet } from "../files/write.ts";
import { counted } from "../names.ts";
import { isError, sentence } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { exitFor } from "./exit.ts";
import type { ExitCode } from "./exit.ts";
import type { Shell } from "./shell.ts";

/** Says every problem on stderr: warnings first, so that the errors stand last, where eyes are. */
export function sayProblems(problems: readonly Problem[], shell: Shell): void {
  const warnings = problems.filter((problem) => !isError(problem));
  const errors = problems.filter(isError);
  for (const problem of [...warnings, ...errors])
    shell.err(`${problem.severity}: ${sentence(problem)}\n`);
  if (errors.length > 0) shell.err(`${counted(errors.length, "error")}; nothing was written.\n`);
}

/** Says why there is no answer, with `--json` in a document too. */
export function refuse(problems: readonly Problem[], json: boolean, shell: Shell): ExitCode {
  sayProblems(problems, shell);
  if (json) sayJsonProblems(problems, shell);
  return exitFor(problems);
}

/** One JSON document on stdout. */
export function sayJson(document: object, shell: Shell): void {
  shell.out(`${JSON.stringify(document, null, 2)}\n`);
}

/** A document for input that has errors, so that `--json` is always answered in JSON. */
export function sayJsonProblems(problems: readonly Problem[], shell: Shell): void {
  sayJson({ version: 1, problems }, shell);
}

/** What became of the files that were there before. */
export function sayKept(dir: string, earlier: EarlierSet | null, shell: Shell): void {
  if (earlier === null) return;
  const { folder, files, replaced } = earlier;
  const kept = `the ${counted(files.length, "file")} that were there before`;
  shell.err(
    `note: ${kept}, ${replaced.length} of them different or gone now, are kept in ${join(dir, folder)}\n`,
  );
}
