import type { FinishRow } from "../job/types.ts";
import { errorAt, inColumn, warningAt } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { isCoat, paintOf, stepsOf } from "./coated-area.ts";
import type { MeasuredJob } from "./types.ts";

/** Finishes that can not be counted as they stand, or would spoil what was made: found beforehand. */
export function finishProblems(measured: MeasuredJob): readonly Problem[] {
  const used = new Set(measured.parts.map(({ part }) => part.finish));
  const steps = measured.tables.finishes.filter(({ id }) => used.has(id));
  return [
    ...steps.flatMap((step) => thinnerAsPaint(step, measured)),
    ...thinnedByPaint(steps, measured),
    ...engravedAndPainted(measured),
  ];
}

function thinnerAsPaint(step: FinishRow, measured: MeasuredJob): readonly Problem[] {
  if (paintOf(step, measured)?.kind !== "thinner") return [];
  return [
    errorAt(inColumn(step.place, "paint"), {
      code: "thinner-as-paint",
      found: step.paint ?? "",
      expected: "what goes on the part; this row of paints.csv is a thinner, and has no area",
      mend: "Name the paint, and the thinner in the row of that; or write cleaner as its kind",
    }),
  ];
}

function thinnedByPaint(steps: readonly FinishRow[], measured: MeasuredJob): readonly Problem[] {
  const { paints } = measured.tables;
  const rows = new Set(steps.map((step) => paintOf(step, measured)));
  return [...rows].flatMap((row) => {
    const thinner = paints.find(({ id }) => id === row?.thinner);
    if (row === null || thinner === undefined || thinner.kind === "thinner") return [];
    return errorAt(inColumn(row.place, "thinner"), {
      code: "not-a-thinner",
      found: thinner.id,
      expected: `an id whose kind is thinner; that of ${thinner.id} is ${thinner.kind}`,
      mend: "Name the thinner, or write thinner as the kind of that row",
    });
  });
}

/** Paint fills what is engraved, unless it is masked or the paint is clear. */
function engravedAndPainted(measured: MeasuredJob): readonly Problem[] {
  return measured.parts.flatMap(({ part, geometry }) => {
    const steps = stepsOf(measured, part.finish);
    const hides = steps.find(
      (step) =>
        step.faces !== "none" && isCoat(step, measured) && paintOf(step, measured)?.clear === false,
    );
    const masked = steps.some((step) => paintOf(step, measured)?.kind === "masking");
    if (geometry.engravings.length === 0 || hides === undefined || masked) return [];
    return warningAt(inColumn(part.place, "finish"), {
      code: "engraving-painted",
      found: `${part.finish}, whose step ${hides.step} covers the engraving of ${part.name}`,
      expected: "a clear finish, or a step that masks, for a part that is engraved",
      mend: "Mask it, engrave it after painting, or leave it bare; leave it so if it may be filled",
    });
  });
}
