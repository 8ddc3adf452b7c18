import type { OffcutLeft } from "../estimate-data.ts";
import { mayFit } from "../nesting/cost-bound.ts";
import type { Nest } from "../nesting/types.ts";
import type { ReadJob } from "./read.ts";
import type { NestedGroup } from "./sheets-tried.ts";
import { choicesOf, piecesOf } from "./stock-groups.ts";

/** Offcuts of a stock that stay on the shelf, and why. */
export function offcutsNotUsed(
  { group }: NestedGroup,
  chosen: Nest,
  { offcuts }: ReadJob,
): readonly OffcutLeft[] {
  const { material, thicknessMm } = group;
  const pieces = piecesOf(group, 1);
  const choices = choicesOf(group);
  return offcuts
    .map(({ offcut }) => offcut)
    .filter((one) => one.material === material && one.thicknessMm === thicknessMm)
    .filter(({ id }) => !chosen.choices.some((choice) => choice.id === id))
    .map(({ id, quantity }): OffcutLeft => {
      if (quantity === 0) return { offcut: id, why: "none there" };
      const choice = choices.find((one) => one.id === id);
      if (choice === undefined) return { offcut: id, why: "too large for the bed" };
      const fits = pieces.some((piece) => mayFit(piece, choice));
      return { offcut: id, why: fits ? "saves nothing" : "too small" };
    });
}
