import { lotsJob } from "../../estimate.ts";
import { lotsText } from "../../exports/lots-text.ts";
import { answer } from "../answer.ts";
import type { CommandArguments } from "../arguments.ts";
import { EXIT } from "../exit.ts";
import type { Ending } from "../exit.ts";
import { sayJson } from "../report.ts";
import type { Shell } from "../shell.ts";

/** `lots JOB [--pieces 1,2,5]`: what the job costs by the number of pieces. */
export async function lots(
  args: CommandArguments & { readonly pieces: readonly number[] },
  shell: Shell,
): Promise<Ending> {
  return answer(
    args,
    shell,
    (input, aide) => lotsJob(input, args.pieces, aide),
    (report) => {
      if (args.json) sayJson(report, shell);
      else shell.out(lotsText(report));
      return EXIT.done;
    },
  );
}
