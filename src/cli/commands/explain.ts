import { estimate } from "../../estimate.ts";
import { explainFigure, explanation, figureList } from "../../exports/explain.ts";
import { nearest } from "../../names.ts";
import { answer } from "../answer.ts";
import type { CommandArguments } from "../arguments.ts";
import { EXIT } from "../exit.ts";
import type { Ending } from "../exit.ts";
import { sayJson } from "../report.ts";
import type { Shell } from "../shell.ts";

/** `explain JOB FIGURE`: the tree under a figure; without one, which figures there are. */
export async function explain(
  args: CommandArguments & { readonly figure: string | null },
  shell: Shell,
): Promise<Ending> {
  return answer(args, shell, estimate, (estimated) => {
    const { figure } = args;
    const ids = estimated.figures.map(({ id }) => id);
    if (figure !== null && !ids.includes(figure)) {
      shell.err(unknownFigure(figure, ids));
      return EXIT.wrongUsage;
    }
    if (args.json) {
      const figures = figure === null ? estimated.figures : explanation(estimated, figure);
      sayJson({ version: 1, ...(figure !== null && { figure }), figures }, shell);
    } else {
      const lines = figure === null ? figureList(estimated) : explainFigure(estimated, figure);
      shell.out(`${lines.join("\n")}\n`);
    }
    return EXIT.done;
  });
}

const MOST_SHOWN = 20;

/** Which figure may have been meant, and those whose id holds what was asked for. */
function unknownFigure(figure: string, ids: readonly string[]): string {
  const near = nearest(figure, ids);
  const meant = near === null ? "" : `; did you mean ${near}?`;
  const within = ids.filter((id) => id.includes(figure));
  const rest = within.length - MOST_SHOWN;
  const list = [
    ...within.slice(0, MOST_SHOWN).map((id) => `  ${id}\n`),
    ...(rest > 0 ? [`  and ${rest} more\n`] : []),
  ];
  const hint =
    within.length > 0
      ? `Figures with that in their name:\n${list.join("")}`
      : "The ids of all figures stand in the first column of costing.csv.\n";
  return `error: there is no figure "${figure}"${meant}\n${hint}`;
}
