import { writeCsv } from "../csv.ts";
import { readRows } from "../job/rows.ts";
import type { SourceText } from "../job/types.ts";
import { checked, errorAt, inColumn, warningAt } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import { cellsOf, numberText, OTHER_NAMES, runOf, TAKEN_COLUMNS } from "./entries.ts";
import type { Planned, Taken } from "./entries.ts";
import { isFarOff } from "./factors.ts";

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
 * @returns problems where a run and its single operations both were; warnings of what took far from
 * its estimate. That nothing was filled in is for {@link withTaken} to judge: it may take back.
 */
export function readForm(form: SourceText): Checked<readonly Taken[]> {
  const { rows, problems } = readRows(form, TAKEN_COLUMNS, OTHER_NAMES);
  const taken = rows.map(({ values, place }): Taken => ({ ...values, place }));
  return checked(taken, [...problems, ...takenTwice(taken), ...taken.flatMap(farOff)]);
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

/** A slip of the pen is seen now, or never. */
function farOff({
  what,
  item,
  operation,
  estimated,
  took,
  unit,
  place,
}: Taken): readonly Problem[] {
  if (took === null || estimated === 0 || !isFarOff(took / estimated)) return [];
  const times = took > estimated ? took / estimated : estimated / took;
  const named =
    operation === null ? item : `${item}, ${operation === "all" ? "whole run" : operation}`;
  return [
    warningAt(inColumn(place, "took"), {
      code: "far-off",
      found: numberText(took),
      expected: `about the ${numberText(estimated)} ${unit} that were estimated for the ${what} of ${named}, and it is ${times.toFixed(1)} times ${took > estimated ? "as much" : "less"}`,
      mend: "If it is a slip, correct it in the form and record it with the same day again; if it is so, write the reason under note",
    }),
  ];
}
