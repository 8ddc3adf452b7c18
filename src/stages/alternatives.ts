import type { Estimate } from "../estimate-data.ts";
import type { Alternative, Tables } from "../job/types.ts";
import { sameText } from "../names.ts";
import { checked, errorAt, isError } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import { stockName } from "../units.ts";
import { differenceReport } from "./differences.ts";
import type { DifferenceReport } from "./differences.ts";
import type { ReadyToRun } from "./ready.ts";

/** A job with other materials and finishes beside the chosen ones. */

export interface AlternativesReport {
  readonly version: 1;
  /** In the order of the job file. */
  readonly alternatives: readonly AlternativePrice[];
  /** Where none is named: what is sold of the thicknesses of the job, by which it could be. */
  readonly soldToo: readonly { readonly stock: string; readonly materials: readonly string[] }[];
}

export interface AlternativePrice {
  readonly alternative: Alternative;
  /** From the job as it is to the job with it; null where it can not be made so. */
  readonly difference: DifferenceReport | null;
  /** Why not. */
  readonly problems: readonly Problem[];
}

/** @param priced the job as it is, then with each of its alternatives. */
export function alternativesReport(
  { read, groups }: ReadyToRun,
  [own, ...priced]: readonly Checked<Estimate>[],
): Checked<AlternativesReport> {
  const { alternatives } = read.job;
  if (!own?.value) return { value: null, problems: own?.problems ?? [] };
  const before = own.value;
  const report: AlternativesReport = {
    version: 1,
    alternatives: alternatives.map((alternative, index): AlternativePrice => {
      const { value, problems = [] } = priced[index] ?? { value: null };
      const stray = isStray(alternative, before) ? [strayAlternative(alternative)] : [];
      const difference =
        value === null || stray.length > 0 ? null : differenceReport(before, value);
      return { alternative, difference, problems: [...stray, ...problems.filter(isError)] };
    }),
    soldToo:
      alternatives.length > 0
        ? []
        : groups.map((group) => ({
            stock: stockName(group),
            materials: soldToo(group, read.tables),
          })),
  };
  return checked(report, own.problems);
}

function soldToo(
  { material, thicknessMm }: Pick<ReadyToRun["groups"][number], "material" | "thicknessMm">,
  { sheets }: Tables,
): readonly string[] {
  const others = sheets.filter(
    (row) => row.thicknessMm === thicknessMm && row.material !== material,
  );
  return [...new Set(others.map((row) => row.material))];
}

/** Whether no part has what it is about. */
function isStray({ by, of, thicknessMm }: Alternative, { parts, making }: Estimate): boolean {
  const same = (one: string | null): boolean => one !== null && sameText(one, of);
  if (by === "finish")
    return (
      !parts.some(({ finish }) => same(finish)) &&
      !making.finishes.some(({ finish }) => same(finish))
    );
  return !parts.some(
    (part) => same(part.material) && (thicknessMm === null || part.thicknessMm === thicknessMm),
  );
}

function strayAlternative({ of, place }: Alternative): Problem {
  return errorAt(place, {
    code: "alternative-without-parts",
    found: of,
    expected: "a material or finish that a part has",
    mend: "Write it as the parts list has it, or remove the item",
  });
}
