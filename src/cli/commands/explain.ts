import { estimate } from "../../estimate.ts";
import { explainFigure, explanation } from "../../exports/explain.ts";
import { nearest } from "../../names.ts";
import { answer } from "../answer.ts";
import type { CommandArguments } from "../arguments.ts";
import { EXIT } from "../exit.ts";
import type { ExitCode } from "../exit.ts";
import { sayJson } from "../report.ts";
import type { Shell } from "../shell.ts";

/** `explain JOB FIGURE`: the tree under a figure, down to file, row and column. */
export async function explain(
  args: CommandArguments & { readonly figure: string },
  shell: Shell,
): Promise<ExitCode> {
  return answer(args, shell, estimate, (estimated) => {
    const ids = estimated.figures.map(({ id }) => id);
    if (!ids.includes(args.figure)) {
      const near = nearest(args.figure, ids);
      const within = ids.filter((id) => id.includes(args.figure)).slice(0, 20);
      shell.err(
        `error: there is no figure "${args.figure}"${near === null ? "" : `; did you mean ${near}?`}\n`,
      );
      if (within.length > 0)
        shell.err(`Figures with that in their name:\n${within.map((id) => `  ${id}\n`).join("")}`);
      else shell.err("The ids of all figures stand in the first column of costing.csv.\n");
      return EXIT.wrongUsage;
    }
    if (args.json)
      sayJson(
        { version: 1, figure: args.figure, figures: explanation(estimated, args.figure) },
        shell,
      );
    else shell.out(`${explainFigure(estimated, args.figure).join("\n")}\n`);
    return EXIT.done;
  });
}
