import { fitJob } from "../../estimate.ts";
import { combFiles } from "../../exports/comb-files.ts";
import { fitText } from "../../exports/fit-text.ts";
import { writeOutputs } from "../../files/write.ts";
import type { CommandArguments } from "../arguments.ts";
import { exitFor } from "../exit.ts";
import type { ExitCode } from "../exit.ts";
import { loadInput } from "../load.ts";
import { assertOutApart } from "../out-folder.ts";
import { refuse, sayJson, sayKept, sayProblems } from "../report.ts";
import type { Shell } from "../shell.ts";

/** `fit JOB [--out DIR]`: how the slots take the sheets; with a folder, a comb for each sheet. */
export async function fit(
  args: CommandArguments & { readonly out: string | null },
  shell: Shell,
): Promise<ExitCode> {
  const { out: dir } = args;
  if (dir !== null) await assertOutApart(dir, args);
  const input = await loadInput(args);
  if (!input.value) return refuse(input.problems, args.json, shell);
  const worked = fitJob(input.value);
  const problems = [...input.problems, ...worked.problems];
  if (worked.value === null) return refuse(problems, args.json, shell);
  const files = dir === null ? [] : combFiles(worked.value);
  const written = dir === null ? null : await writeOutputs(dir, files);
  if (written !== null && written.problems.length > 0)
    return refuse(written.problems, args.json, shell);
  sayProblems(problems, shell);
  if (dir !== null && written !== null) sayKept(dir, written.earlier, shell);
  const names = files.map(({ name }) => name);
  if (args.json)
    sayJson(
      {
        ...worked.value,
        ...(dir === null
          ? {}
          : { written: { dir, files: names, earlier: written?.earlier ?? null } }),
      },
      shell,
    );
  else {
    const combs = files.map(({ name, what }) => `  ${name}  ${what}\n`).join("");
    shell.out(`${fitText(worked.value)}${dir === null ? "" : `\nWritten in ${dir}\n${combs}`}`);
  }
  return exitFor(problems);
}
