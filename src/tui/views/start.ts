import { isError } from "../../problem.ts";
import { plain, windowStart } from "../line.ts";
import type { Line } from "../line.ts";
import type { Running, State } from "../state.ts";
import { bodyRows } from "./reading.ts";

/** Before there is anything to show: which jobs there are, what is awaited, what to do next. */

const HEADING_ROWS = 4;

export function startLines(state: State): readonly Line[] {
  const { opening, jobs, cursors, size } = state;
  if (opening) return [plain(`Opening ${opening.path}`)];
  if (jobs === null)
    return [plain("No job is open."), plain(""), plain("Looking for jobs below this folder.")];
  if (jobs.length === 0) return nothingFound();
  const shown = bodyRows(size) - HEADING_ROWS;
  const start = windowStart(jobs.length, cursors.start, shown);
  return [
    plain("No job is open."),
    plain(""),
    plain(`Jobs below this folder: ${jobs.length}`, "title"),
    ...jobs.slice(start, start + shown).map((path, index): Line => {
      const chosen = start + index === cursors.start;
      return [
        { text: chosen ? "▸ " : "  " },
        chosen ? { text: path, tone: "selected" } : { text: path },
      ];
    }),
  ];
}

function nothingFound(): readonly Line[] {
  return [
    plain("No job is open, and no folder below this one holds a parts.csv."),
    plain(""),
    plain("What next: o opens a job by its path."),
    plain("A job is a folder with a parts.csv; the least that it needs is"),
    plain(""),
    plain("    part,qty,material,thickness,shape,width,height"),
    plain("    shelf,2,birch plywood,5 mm,rectangle,300 mm,120 mm"),
  ];
}

/** A job is open and has no estimate yet. */
export function waitingLines({ running, problems, opening }: State): readonly Line[] {
  if (opening) return [plain(`Opening ${opening.path}`)];
  if (running)
    return [
      plain("Working out the first estimate."),
      plain(""),
      plain("The first figures come when every size of sheet has been tried once;"),
      plain("after that they only get better, and Ctrl-C ends with the best so far."),
    ];
  const count = problems.filter(isError).length;
  return [
    plain(
      `There is no estimate: ${count} ${count === 1 ? "problem stands" : "problems stand"} in its way.`,
      "problem",
    ),
    plain(""),
    plain("What next: p lists them; mend the files in an editor; r reads the job again."),
  ];
}

/** `nesting birch-plywood 5 mm, 3 of 12, 4 s`; ending early takes until there is a first result. */
export function progressText(
  { stage, done, of, elapsedS, finishing }: Running,
  freshness: State["freshness"],
): string {
  const count = of > 0 ? `, ${done} of ${of}` : "";
  const progress = `${stage}${count}, ${elapsedS} s`;
  if (!finishing) return progress;
  const which = freshness === "stale" ? "first result" : "best so far";
  return `ending with the ${which}, Ctrl-C again leaves: ${progress}`;
}
