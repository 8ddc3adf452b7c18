import { stat } from "node:fs/promises";
import { join } from "node:path";
import type { SourceText } from "../job/types.ts";
import { isThere } from "./is-there.ts";
import { readIfThere } from "./shop-log.ts";
import type { Checked } from "../problem.ts";

/** Name of an estimate among the files of its quote. */
export const KEPT_ESTIMATE = "estimate.json";

/**
 * The text of an estimate that was kept: a JSON file, or the folder of a quote that holds one.
 * @returns null where the path names neither.
 */
export async function readKept(path: string): Promise<Checked<SourceText> | null> {
  const found = await stat(path).catch(() => null);
  if (found?.isFile() === true) return /\.json$/i.test(path) ? readIfThere(path) : null;
  const inside = join(path, KEPT_ESTIMATE);
  return (await isThere(inside)) ? readIfThere(inside) : null;
}
