import { nestJob } from "../../estimate.ts";
import { sheetsText } from "../../exports/nest-text.ts";
import { nestJson } from "../../exports/nest-json.ts";
import { answer } from "../answer.ts";
import type { CommandArguments } from "../arguments.ts";
import { EXIT } from "../exit.ts";
import type { Ending } from "../exit.ts";
import { sayJson } from "../report.ts";
import type { Shell } from "../shell.ts";

/** `sheets JOB`: the sizes there are for each material, and what each would cost. */
export async function sheets(args: CommandArguments, shell: Shell): Promise<Ending> {
  return answer(args, shell, nestJob, (report) => {
    const { version, choices, figures } = nestJson(report);
    if (args.json) sayJson({ version, choices, figures }, shell);
    else shell.out(sheetsText(report));
    return EXIT.done;
  });
}
