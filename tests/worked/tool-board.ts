import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import type { Estimate, EstimateInput } from "../../src/estimate-data.ts";
import { estimate } from "../../src/estimate.ts";
import type { SourceText } from "../../src/job/types.ts";
import type { Checked } from "../../src/problem.ts";
import { drain } from "../helpers/drain.ts";

/** The hand-worked job as the program gets it, and the ways in which tests change it. */

const FOLDER = "tests/worked/tool-board/";

const JOB_FILES = [
  "job.yaml",
  "parts.csv",
  "hardware.csv",
  "lengths.csv",
  "hand-work.csv",
  "drawings/name-plate.svg",
];

export const TABLES: readonly string[] = [
  "settings.csv",
  "sheets.csv",
  "feeds.csv",
  "machines.csv",
  "finishes.csv",
  "paints.csv",
  "hardware.csv",
  "stock-lengths.csv",
  "tasks.csv",
  "rates.csv",
];

/** A text of the job's folder: `job/parts.csv`, `tables/rates.csv`, `worked.md`. */
export function readWorked(name: string): string {
  return readFileSync(`${FOLDER}${name}`, "utf8");
}

/** @param changed texts instead of those on disk, by their names there. */
export function toolBoard(changed: Readonly<Record<string, string>> = {}): EstimateInput {
  const textOf = (path: string): string => changed[path] ?? readWorked(path);
  return {
    jobName: "tool-board",
    job: JOB_FILES.map((name) => sourceText(name, textOf(`job/${name}`))),
    tables: TABLES.map((name) => sourceText(`tables/${name}`, textOf(`tables/${name}`))),
    seed: 1,
    steps: 1,
  };
}

export function sourceText(name: string, text: string): SourceText {
  return { name, text, sha256: createHash("sha256").update(text).digest("hex") };
}

export function run(input: EstimateInput): Checked<Estimate> {
  return drain(estimate(input));
}

/** @throws Error with the problems when there is no estimate. */
export function estimated(input: EstimateInput): Estimate {
  const { value, problems } = run(input);
  if (value === null) throw new Error(problems.map((p) => JSON.stringify(p)).join("\n"));
  return value;
}
