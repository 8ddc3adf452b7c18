import { DECIMAL_COMMA, DECIMAL_POINT } from "../../csv.ts";
import { estimate } from "../../estimate.ts";
import type { Estimate } from "../../estimate-data.ts";
import { estimateJson } from "../../exports/estimate-json.ts";
import { outputFiles } from "../../exports/output-files.ts";
import { summary } from "../../exports/summary.ts";
import { outputBlock, usualOutputFolder } from "../../files/output-folder.ts";
import { writeOutputs } from "../../files/write.ts";
import { answer } from "../answer.ts";
import type { CommandArguments } from "../arguments.ts";
import { EXIT } from "../exit.ts";
import type { Ending, ExitCode } from "../exit.ts";
import { assertOutApart } from "../out-folder.ts";
import { refuse, sayJson, sayKept } from "../report.ts";
import type { Shell } from "../shell.ts";

/** `quote JOB [--out DIR] [--decimal-comma]`: every file of the quote, and a summary. */
export async function quote(
  args: CommandArguments & { readonly out: string | null; readonly decimalComma: boolean },
  shell: Shell,
): Promise<Ending> {
  const dir = args.out ?? usualOutputFolder(args.job);
  await assertOutApart(dir, args);
  const say = async (estimated: Estimate): Promise<ExitCode> => {
    const files = outputFiles(estimated, args.decimalComma ? DECIMAL_COMMA : DECIMAL_POINT);
    const { problems, earlier } = await writeOutputs(dir, files);
    if (problems.length > 0) return refuse(problems, args.json, shell);
    sayKept(dir, earlier, shell);
    const written = { dir, files: files.map(({ name }) => name), earlier };
    if (args.json) sayJson({ ...estimateJson(estimated), written }, shell);
    else shell.out(`${summary(estimated)}\n${filesText(dir, files)}`);
    return EXIT.done;
  };
  return answer(args, shell, estimate, say, async () => outputBlock(dir));
}

function filesText(dir: string, files: ReturnType<typeof outputFiles>): string {
  const layouts = files.filter(({ what }) => what === "layout");
  const named = files
    .filter(({ what }) => what !== "layout")
    .map(({ name, what }) => `  ${name.padEnd(16)} ${what}`);
  const more = `  ${"layouts/".padEnd(16)} ${layouts.length} files, SVG and DXF of each sheet; what is left of it`;
  return `Written in ${dir}\n${[...named, more].join("\n")}\n`;
}
