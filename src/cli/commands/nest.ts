import { nestJob } from "../../estimate.ts";
import { nestJson } from "../../exports/nest-json.ts";
import { nestText } from "../../exports/nest-text.ts";
import { answer } from "../answer.ts";
import type { CommandArguments } from "../arguments.ts";
import { EXIT } from "../exit.ts";
import type { Ending } from "../exit.ts";
import { sayJson } from "../report.ts";
import type { Shell } from "../shell.ts";

/** `nest JOB`: what lies where on which sheets. Parts without a place are named, with exit 4. */
export async function nest(args: CommandArguments, shell: Shell): Promise<Ending> {
  return answer(args, shell, nestJob, (report) => {
    const found = nestJson(report);
    if (args.json) sayJson(found, shell);
    else shell.out(nestText(report));
    return found.unplaced.length > 0 ? EXIT.noFeasiblePlan : EXIT.done;
  });
}
