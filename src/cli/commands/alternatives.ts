import { alternativesJob } from "../../estimate.ts";
import { alternativesText } from "../../exports/alternatives-text.ts";
import { answer } from "../answer.ts";
import type { CommandArguments } from "../arguments.ts";
import { EXIT } from "../exit.ts";
import type { Ending } from "../exit.ts";
import { sayJson } from "../report.ts";
import type { Shell } from "../shell.ts";

/** `alternatives JOB`: the job with the other materials and finishes that it names. */
export async function alternatives(args: CommandArguments, shell: Shell): Promise<Ending> {
  return answer(args, shell, alternativesJob, (report) => {
    if (args.json) sayJson(report, shell);
    else shell.out(alternativesText(report));
    return EXIT.done;
  });
}
