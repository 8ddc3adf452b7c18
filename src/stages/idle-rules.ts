import { SAME_MM } from "../drawing/twins.ts";
import { inColumn, warningAt } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { lengthText, stockName } from "../units.ts";
import type { ReadJob } from "./read.ts";
import type { StockGroup } from "./stock-groups.ts";

/** What a job asks for and can not come of it. */

/** Edges in common, of pieces that every sheet of a material keeps apart. */
export function neverInCommon(groups: readonly StockGroup[], { job }: ReadJob): readonly Problem[] {
  const { commonCuts, commonCutsPlace } = job;
  if (commonCuts !== "once" || commonCutsPlace === null) return [];
  return groups.flatMap((group) => {
    const least = Math.min(...group.rows.map(({ gapMm }) => gapMm));
    const first = group.rows.find(({ gapMm }) => gapMm === least);
    if (first === undefined || least <= SAME_MM) return [];
    return [
      warningAt(inColumn(first.place, "gap_mm"), {
        code: "no-common-edges",
        found: lengthText(least),
        expected: `0 on a sheet of ${stockName(group)}: pieces that lie apart have no edge in common, and common_cuts: once saves nothing`,
        mend: "Write 0 under gap_mm if they may touch, one kerf between them, or take common_cuts out of job.yaml",
      }),
    ];
  });
}
