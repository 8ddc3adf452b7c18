import { sheetsJob } from "../../estimate.ts";
import { sheetsJson } from "../../exports/sheets-json.ts";
import { sheetsText } from "../../exports/sheets-text.ts";
import { answer } from "../answer.ts";
import type { CommandArguments } from "../arguments.ts";
import { EXIT } from "../exit.ts";
import type { Ending } from "../exit.ts";
import { sayJson } from "../report.ts";
import type { Shell } from "../shell.ts";

/** `sheets JOB`: the choices of sheets for each material, and what each would cost, take and leave. */
export async function sheets(args: CommandArguments, shell: Shell): Promise<Ending> {
  return answer(args, shell, sheetsJob, (report) => {
    if (args.json) sayJson(sheetsJson(report), shell);
    else shell.out(sheetsText(report));
    return EXIT.done;
  });
}
