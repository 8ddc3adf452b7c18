import { plainName } from "../../names.ts";
import { asCsvName, isPartsList, LISTS, PARTS_LISTS } from "../../job/file-names.ts";
import { errorAt, inFile, warningAt } from "../../problem.ts";
import type { Problem } from "../../problem.ts";

export const WORKBOOK = /\.(xlsx|xlsm|xlsb|xls|ods)$/i;

/**
 * Workbooks that seem to hold a list of the job and are not read: a cost must not be lost in
 * silence. Where the list is there as a file that is read, the workbook is what it was made from.
 * @param read names of the files that are read.
 * @param workbooks the others in the folder, by their endings.
 */
export function workbooksNotRead(
  read: readonly string[],
  workbooks: readonly string[],
): readonly Problem[] {
  const hasParts = read.some(isPartsList);
  return workbooks.flatMap((name) => {
    const list = `${plainName(name.replace(WORKBOOK, ""))}.csv`;
    if (PARTS_LISTS.includes(list)) return hasParts ? [] : [partsNotRead(name)];
    const isThere = read.some((one) => asCsvName(one) === list);
    return LISTS.includes(list) && !isThere ? [listNotRead(name, list)] : [];
  });
}

function partsNotRead(name: string): Problem {
  return errorAt(inFile(name), {
    code: "workbook-not-read",
    found: name,
    expected: "a parts list named parts.csv or parts.xlsx",
    mend: "Save the workbook as parts.xlsx, or its sheet as parts.csv",
  });
}

function listNotRead(name: string, list: string): Problem {
  return warningAt(inFile(name), {
    code: "workbook-not-read",
    found: name,
    expected: `${list} or ${list.replace(/csv$/, "xlsx")}`,
    mend: `Save it as one of the two if it belongs to the job`,
  });
}
