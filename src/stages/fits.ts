import { counted } from "../names.ts";
import { mayHold } from "../job/doubts.ts";
import type { Doubts } from "../job/doubts.ts";
import { takenBy } from "../nesting/too-large.ts";
import type { SheetChoice } from "../nesting/types.ts";
import { lengthText, sizeText, stockName } from "../units.ts";
import { errorAt, inColumn, inFile } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { chosenNest } from "./sheets-tried.ts";
import type { NestedGroup } from "./sheets-tried.ts";
import { choicesOf, piecesOf } from "./stock-groups.ts";
import type { StockGroup } from "./stock-groups.ts";

/** Parts that no sheet takes: known before the nest where one is too large, else after it. */

/** Parts too large for every size on offer. */
export function tooLargeParts(
  groups: readonly StockGroup[],
  pieces: number,
  doubts: Doubts,
): readonly Problem[] {
  return groups.flatMap((group) => {
    const { material, thicknessMm, rows } = group;
    const unsure = mayHold(doubts, "sheets.csv", { material, "thickness mm": thicknessMm });
    if (unsure || rows.length === 0) return [];
    const wanted = piecesOf(group, pieces);
    const choices = choicesOf(group);
    const sold = choices.some((one) => !one.offcut)
      ? choices.filter((one) => !one.offcut)
      : choices;
    const taken = takenBy(wanted, choices);
    const over = wanted.filter((_, piece) => taken[piece]?.every((fits) => !fits) === true);
    const sizes = [...new Set(sold.map(offered))].join(", ");
    const reason = `larger than ${sizes} less the margin in every allowed turn${bedText(group)}`;
    return over.map(({ part, copies }) => doesNotFit(group, part, copies, reason));
  });
}

/** A problem for each part that no size of sheet took in all its copies. */
export function unplacedProblems(nested: readonly NestedGroup[]): readonly Problem[] {
  return nested.flatMap((one) =>
    (chosenNest(one)?.unplaced ?? []).map(({ part, copies, reason }) =>
      doesNotFit(one.group, part, copies, reason),
    ),
  );
}

/** Where the bed keeps larger sizes from being used whole, or at all. */
function bedText({ machine, rows, sold }: StockGroup): string {
  const whole = rows.filter(({ id, panels }) => sold.includes(id) && panels === undefined);
  if (machine === null || whole.length === new Set(sold).size) return "";
  return `; the bed of ${machine.id} takes ${sizeText(machine.bedWidthMm, machine.bedHeightMm)}`;
}

/** Of a roll only so much at a time as the bed takes. */
function offered({ widthMm, heightMm, longestMm }: SheetChoice): string {
  const size = sizeText(widthMm, heightMm);
  return longestMm === null ? size : `${size}, ${lengthText(longestMm)} of it on the bed`;
}

function doesNotFit(group: StockGroup, part: string, copies: number, reason: string): Problem {
  const row = group.parts.find((measured) => measured.part.name === part);
  return errorAt(inColumn(row?.part.place ?? inFile("parts.csv"), "part"), {
    code: "does-not-fit",
    found: `${part}, ${counted(copies, "copy", "copies")} without a place`,
    expected: `a sheet of ${stockName(group)} that takes it (${reason})`,
    mend: "Offer a larger sheet or more of them in sheets.csv, allow more turns, or split the part",
  });
}
