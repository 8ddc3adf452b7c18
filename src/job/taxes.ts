import { errorAt, inColumn } from "../problem.ts";
import type { Problem } from "../problem.ts";
import type { TableKind } from "./table.ts";
import { TAX_COLUMNS } from "./table-columns.ts";
import type { TaxRow } from "./types.ts";

/** taxes.csv: a row for each rate that is not the usual one, with the headings that it is for. */

export const TAXES: TableKind<typeof TAX_COLUMNS, TaxRow> = {
  file: "taxes.csv",
  columns: TAX_COLUMNS,
  row: (values, place) => ({ ...values, place }),
};

/** A heading has one rate. */
export function taxedTwice(rows: readonly TaxRow[]): readonly Problem[] {
  return rows.flatMap(({ sections, place }, index) =>
    sections.flatMap((section) => {
      const first = rows.slice(0, index).find((row) => row.sections.includes(section));
      if (first === undefined) return [];
      return errorAt(inColumn(place, "sections"), {
        code: "taxed-twice",
        found: section,
        expected: `each heading in one row; "${first.id}" has it too`,
        mend: "Take it out of one of the two",
      });
    }),
  );
}
