import { rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { errorAt, inFile } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { systemCode, systemProblem } from "./system-problem.ts";
import type { OutputFile } from "./write.ts";

/** New files in a folder of somebody's own: all of them or none, and nothing is ever replaced. */
export async function createFiles(
  folder: string,
  files: readonly OutputFile[],
): Promise<readonly Problem[]> {
  const made: string[] = [];
  for (const { name, content } of files) {
    const path = join(folder, name);
    try {
      // oxlint-disable-next-line no-await-in-loop -- one after the other, so that all can be undone
      await writeFile(path, content, { flag: "wx" });
      made.push(path);
    } catch (error) {
      // What was not there before and could only be begun.
      if (systemCode(error) !== "EEXIST") made.push(path);
      // oxlint-disable-next-line no-await-in-loop -- the loop ends here
      await Promise.all(made.map(async (one) => rm(one, { force: true })));
      return [systemCode(error) === "EEXIST" ? alreadyThere(name) : systemProblem(path, error)];
    }
  }
  return [];
}

export function alreadyThere(name: string): Problem {
  return errorAt(inFile(name), {
    code: "already-there",
    found: name,
    expected: "a folder without it: nothing that exists is replaced",
    mend: "Go on with the job that is there, or move its files away first",
  });
}
