import { plainName } from "../names.ts";

/** Files of a job that are known by their names. */

/** As CSV, or as a workbook: one of the two. */
export const PARTS_LISTS: readonly string[] = ["parts.csv", "parts.xlsx"];
export const JOB_FILES: readonly string[] = ["job.yaml", "job.yml"];
/** The lists beside the parts, each also as a workbook: one of the two. */
export const LISTS: readonly string[] = [
  "hardware.csv",
  "joints.csv",
  "lengths.csv",
  "hand-work.csv",
  "offcuts.csv",
];

/** What a job took, filled in beside its parts, and the log of all jobs: neither is estimated from. */
export const FORM = "took.csv";
export const SHOP_LOG = "shop-log.csv";

/** What a list is called as a CSV: `hardware.csv` for `Hardware.xlsx`. */
export function asCsvName(name: string): string {
  return plainName(name).replace(/\.xlsx$/, ".csv");
}

/** Whether a file directly in the job folder is one of the lists beside the parts. */
export function isList(name: string): boolean {
  return LISTS.includes(asCsvName(name));
}

/** Whether a file directly in the job folder is its parts list. */
export function isPartsList(name: string): boolean {
  return PARTS_LISTS.includes(plainName(name));
}
