import { timeJob } from "../../estimate.ts";
import { timeJson, timeText } from "../../exports/time-text.ts";
import { answer } from "../answer.ts";
import type { CommandArguments } from "../arguments.ts";
import { EXIT } from "../exit.ts";
import type { Ending } from "../exit.ts";
import { sayJson } from "../report.ts";
import type { Shell } from "../shell.ts";

/** `time JOB`: the machine's time for each sheet and operation. */
export async function time(args: CommandArguments, shell: Shell): Promise<Ending> {
  return answer(args, shell, timeJob, (report) => {
    if (args.json) sayJson(timeJson(report), shell);
    else shell.out(timeText(report));
    return EXIT.done;
  });
}
