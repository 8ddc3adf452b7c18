import { choicesFor, mendName, sameText } from "../names.ts";
import { errorAt, warningAt } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import { sameThickness, stockName } from "../units.ts";
import { mayHold } from "./doubts.ts";
import type { Doubts } from "./doubts.ts";
import type { Readable } from "./rows.ts";
import type { ChosenSheet, Part, SheetRow } from "./types.ts";

/** Sizes of sheet that a job names, instead of letting the cheapest be found among all. */

/**
 * The sizes a job lets its parts be nested on: those it names of a material and thickness, and all
 * where it names none of them.
 */
export function sizesMeant<Row extends Pick<SheetRow, "id">>(
  rows: readonly Row[],
  chosen: readonly ChosenSheet[],
): readonly Row[] {
  const named = rows.filter(({ id }) => chosen.some((one) => sameText(one.sheet, id)));
  return named.length > 0 ? named : rows;
}

/** Sizes that are not sold; and sizes of which no part is cut, left from before the parts were changed. */
export function chosenSheetProblems(
  { sheets: chosen, parts }: { sheets: readonly ChosenSheet[]; parts: readonly Readable<Stock>[] },
  sheets: readonly SheetRow[],
  doubts: Doubts,
): readonly Problem[] {
  const ids = sheets.map(({ id }) => id);
  return chosen.flatMap(({ sheet, place }) => {
    const row = sheets.find(({ id }) => sameText(id, sheet));
    if (row !== undefined)
      return parts.some((part) => mayBeOf(part, row)) ? [] : withoutParts(place, row);
    if (mayHold(doubts, "sheets.csv", { id: sheet })) return [];
    return errorAt(place, {
      code: "unknown-sheet",
      found: sheet,
      expected: `a sheet of the price table sheets.csv: ${choicesFor(sheet, ids, "sheets.csv")}`,
      mend: mendName(sheet, ids, "add it to sheets.csv"),
    });
  });
}

function withoutParts(place: Place, row: SheetRow): Problem {
  return warningAt(place, {
    code: "sheet-without-parts",
    found: `${row.id}, a sheet of ${stockName(row)}`,
    expected: "a size of a material and thickness that a part has",
    mend: "Remove it, or correct the parts list",
  });
}

type Stock = Pick<Part, "material" | "thicknessMm">;

/** What can not be read may be of it. */
function mayBeOf({ material, thicknessMm }: Readable<Stock>, row: SheetRow): boolean {
  return (
    (material === undefined || sameText(material, row.material)) &&
    (thicknessMm === undefined || sameThickness(thicknessMm, row.thicknessMm))
  );
}
