import type { HardwareRow, HardwareUse } from "../job/types.ts";
import { cell, givenOnce, jobCell } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";

/** Glue by the bead or by the film, bought by the bottle. */

/** Whether an item is reckoned in ml: where some use of it says how much goes where. */
export function goesByMl(row: HardwareRow, uses: readonly HardwareUse[]): boolean {
  return row.contentMl !== null && uses.some(({ item, glue }) => item === row.id && glue !== null);
}

/** What a bottle holds. */
export function addContent({ sheet }: Ledger, row: HardwareRow, id: string): string {
  const label = `${row.description}, content`;
  return givenOnce(sheet, id, label, "ml", row.contentMl ?? 0, cell(row, "content_ml"));
}

/**
 * ml of a use: of so many beads or films, or of so many whole bottles where it says neither.
 * @param count figure of how many.
 * @param content figure of what a bottle holds.
 */
export function addVolume(
  { sheet }: Ledger,
  row: HardwareRow,
  { glue, place }: HardwareUse,
  { id, count, content }: { readonly id: string; readonly count: string; readonly content: string },
): string {
  const label = (what: string): string => `${row.description}, ${what}`;
  const all = (each: string): string =>
    sheet.derived(`${id}-ml`, label("in all"), "ml", "product", [count, each]);
  if (glue === null) return all(content);
  if (glue.kind === "bead") {
    const across = sheet.given(
      `${id}-bead`,
      label("across the bead"),
      "mm",
      glue.diameterMm,
      jobCell(place, "bead"),
    );
    const length = sheet.given(
      `${id}-bead-length`,
      label("length of a bead"),
      "mm",
      glue.lengthMm,
      jobCell(place, "bead length"),
    );
    const inputs = [across, length];
    return all(sheet.derived(`${id}-ml-each`, label("a bead"), "ml", "bead volume", inputs, CHART));
  }
  const film = sheet.given(
    `${id}-film`,
    label("thickness of the film"),
    "mm",
    glue.filmMm,
    jobCell(place, "film"),
  );
  const area = sheet.given(
    `${id}-film-area`,
    label("area of a film"),
    "cm2",
    glue.areaCm2,
    jobCell(place, "glued area cm2"),
  );
  return all(sheet.derived(`${id}-ml-each`, label("a film"), "ml", "film volume", [film, area]));
}

const CHART = "length = volume / (pi d2 / 4), adhesive chart";
