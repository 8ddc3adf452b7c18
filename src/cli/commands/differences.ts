import { differencesJob } from "../../estimate.ts";
import { differencesText } from "../../exports/differences-text.ts";
import { readKept } from "../../files/kept.ts";
import { checked } from "../../problem.ts";
import type { Checked } from "../../problem.ts";
import type { Earlier } from "../../stages/differences.ts";
import { answer } from "../answer.ts";
import type { CommandArguments } from "../arguments.ts";
import { EXIT } from "../exit.ts";
import type { Ending } from "../exit.ts";
import { loadInput } from "../load.ts";
import { refuse, sayJson } from "../report.ts";
import type { Shell } from "../shell.ts";

/** `differences JOB EARLIER`: what became dearer or cheaper, and what caused it. */
export async function differences(
  args: CommandArguments & { readonly earlier: string },
  shell: Shell,
): Promise<Ending> {
  const earlier = await loadEarlier(args);
  const { value } = earlier;
  if (!value) return refuse(earlier.problems, args.json, shell);
  return answer(
    args,
    shell,
    (input, aide) => differencesJob(input, value, aide),
    (report) => {
      if (args.json) sayJson(report, shell);
      else shell.out(differencesText(report));
      return EXIT.done;
    },
  );
}

async function loadEarlier(
  args: CommandArguments & { readonly earlier: string },
): Promise<Checked<Earlier>> {
  const kept = await readKept(args.earlier);
  if (kept !== null) return { ...kept, value: kept.value && { kind: "kept", text: kept.value } };
  const { value, problems } = await loadInput({ ...args, job: args.earlier });
  return value
    ? checked({ kind: "job", input: value } as const, problems)
    : { value: null, problems };
}
