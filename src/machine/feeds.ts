import type { FeedRow, Operation, Tables } from "../job/types.ts";
import { checked, inFile } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import { lengthText, sameThickness } from "../units.ts";

/** Finding the feeds of a material: as the table has them, never zero, never worked out from others. */

/**
 * One row for each operation, in the order asked.
 * @returns problem `no-feed` for each operation that the table has no row for.
 */
export function chooseFeeds(
  tables: Pick<Tables, "feeds">,
  machineId: string,
  material: string,
  thicknessMm: number,
  operations: readonly Operation[],
): Checked<readonly FeedRow[]> {
  const rows: FeedRow[] = [];
  const problems: Problem[] = [];
  for (const operation of operations) {
    const sameWork = tables.feeds.filter(
      (row) =>
        row.machine === machineId &&
        row.operation === operation &&
        row.material.toLowerCase() === material.toLowerCase(),
    );
    const row = sameWork.find((each) => sameThickness(each.thicknessMm, thicknessMm));
    if (row === undefined)
      problems.push(noFeed(machineId, material, thicknessMm, operation, sameWork));
    else rows.push(row);
  }
  return checked(rows, problems);
}

function noFeed(
  machineId: string,
  material: string,
  thicknessMm: number,
  operation: Operation,
  sameWork: readonly FeedRow[],
): Problem {
  const there = [...new Set(sameWork.map((row) => row.thicknessMm))].sort((a, b) => a - b);
  const known = there.length === 0 ? "none" : there.map(lengthText).join(", ");
  return {
    ...inFile("feeds.csv"),
    code: "no-feed",
    severity: "error",
    found: `no row to ${operation} ${material} ${lengthText(thicknessMm)} on ${machineId}`,
    expected: `a feed measured for it; thicknesses there are for this machine, material and operation: ${known}`,
    mend: "Add a row to feeds.csv, or choose another machine, material or thickness",
  };
}
