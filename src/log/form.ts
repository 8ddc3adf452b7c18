import { writeCsv } from "../csv.ts";
import { readRows } from "../job/rows.ts";
import type { SourceText } from "../job/types.ts";
import { checked, errorAt, inColumn, inFile } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import { cellsOf, numberText, OTHER_NAMES, runOf, TAKEN_COLUMNS } from "./entries.ts";
import type { Planned, Taken } from "./entries.ts";

/** The form to fill in: what was estimated, with `took` and `note` left empty. */
export function formText(planned: readonly Planned[]): string {
  return writeCsv(
    HEADER,
    planned.map((row) => cellsOf({ ...row, took: null, note: "" })),
  );
}

const HEADER = Object.values(TAKEN_COLUMNS).map((column) => column.name);

/**
 * The form as filled in.
 * @returns problems where nothing was, or a run and its single operations both were.
 */
export function readForm(form: SourceText): Checked<readonly Taken[]> {
  const { rows, problems } = readRows(form, TAKEN_COLUMNS, OTHER_NAMES);
  const taken = rows.map(({ values, place }): Taken => ({ ...values, place }));
  const empty = problems.length === 0 && taken.every(({ took }) => took === null);
  return checked(taken, [
    ...problems,
    ...takenTwice(taken),
    ...(empty ? [nothingTaken(form.name)] : []),
  ]);
}

function takenTwice(taken: readonly Taken[]): readonly Problem[] {
  const single = new Set(
    taken.filter((row) => row.took !== null && row.operation !== "all").map(runOf),
  );
  return taken
    .filter((row) => row.operation === "all" && row.took !== null && single.has(runOf(row)))
    .map((row) =>
      errorAt(inColumn(row.place, "took"), {
        code: "taken-twice",
        found: numberText(row.took),
        expected: `the minutes of the whole run, or those of its operations, but not both for ${row.item}`,
        mend: "Empty the cells of the way that you noted less well",
      }),
    );
}

function nothingTaken(file: string): Problem {
  return errorAt(inColumn(inFile(file), "took"), {
    code: "nothing-taken",
    found: "",
    expected: "what the job really took, in one row at least",
    mend: "Fill in took where you noted it, and leave the other cells empty",
  });
}
