import { estimate } from "../../estimate.ts";
import { estimateJson } from "../../exports/estimate-json.ts";
import { outputFiles } from "../../exports/output-files.ts";
import { summary } from "../../exports/summary.ts";
import { usualOutputFolder } from "../../files/output-folder.ts";
import { writeOutputs } from "../../files/write.ts";
import { answer } from "../answer.ts";
import type { CommandArguments } from "../arguments.ts";
import { EXIT } from "../exit.ts";
import type { ExitCode } from "../exit.ts";
import { sayJson, sayProblems } from "../report.ts";
import type { Shell } from "../shell.ts";

/** `quote JOB [--out DIR]`: every file of the quote, and a summary. */
export async function quote(
  args: CommandArguments & { readonly out: string | null },
  shell: Shell,
): Promise<ExitCode> {
  return answer(args, shell, estimate, async (estimated) => {
    const files = outputFiles(estimated);
    const dir = args.out ?? usualOutputFolder(args.job);
    const written = await writeOutputs(dir, files);
    sayProblems(written.problems, shell);
    if (written.problems.length > 0) return EXIT.inputHasErrors;
    const names = files.map(({ name }) => name);
    if (args.json) sayJson({ ...estimateJson(estimated), written: { dir, files: names } }, shell);
    else shell.out(`${summary(estimated)}\n${filesText(dir, files)}`);
    return EXIT.done;
  });
}

function filesText(dir: string, files: ReturnType<typeof outputFiles>): string {
  const layouts = files.filter(({ what }) => what === "layout");
  const named = files
    .filter(({ what }) => what !== "layout")
    .map(({ name, what }) => `  ${name.padEnd(16)} ${what}`);
  const more = `  ${"layouts/".padEnd(16)} ${layouts.length} files, SVG and DXF of each sheet`;
  return `Written in ${dir}\n${[...named, more].join("\n")}\n`;
}
