import { estimate } from "../../estimate.ts";
import type { Estimate, FigureRecord } from "../../estimate-data.ts";
import {
  explainFigure,
  explanation,
  figureList,
  figuresOfGroup,
  groupList,
} from "../../exports/explain.ts";
import { nearest } from "../../names.ts";
import { answer } from "../answer.ts";
import type { CommandArguments } from "../arguments.ts";
import { EXIT } from "../exit.ts";
import type { Ending } from "../exit.ts";
import { sayJson } from "../report.ts";
import type { Shell } from "../shell.ts";

/**
 * `explain JOB FIGURE`: the tree under a figure; with the beginning of ids all figures that have it;
 * without either, which figures there are.
 */
export async function explain(
  args: CommandArguments & { readonly figure: string | null },
  shell: Shell,
): Promise<Ending> {
  return answer(args, shell, estimate, (estimated) => {
    const { figure } = args;
    const told = figure === null ? toldOfAll(estimated) : toldOf(estimated, figure);
    if (told === null) {
      const ids = estimated.figures.map(({ id }) => id);
      shell.err(unknownFigure(figure ?? "", ids));
      return EXIT.wrongUsage;
    }
    if (args.json)
      sayJson({ version: 1, ...(figure !== null && { figure }), figures: told.figures }, shell);
    else shell.out(`${told.lines.join("\n")}\n`);
    return EXIT.done;
  });
}

interface Told {
  readonly figures: readonly FigureRecord[];
  readonly lines: readonly string[];
}

function toldOfAll(estimated: Estimate): Told {
  return { figures: estimated.figures, lines: figureList(estimated) };
}

/** Null where no figure is called so, nor any begins so. */
function toldOf(estimated: Estimate, asked: string): Told | null {
  const { figures, currency } = estimated;
  if (figures.some(({ id }) => id === asked))
    return { figures: explanation(estimated, asked), lines: explainFigure(estimated, asked) };
  const group = asked.replace(/\.$/, "");
  const its = figuresOfGroup(estimated, group);
  return its.length === 0 ? null : { figures: its, lines: groupList(its, group, currency.code) };
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
