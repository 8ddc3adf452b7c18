import { estimate, nestJob, sheetsJob } from "../../src/estimate.ts";
import type { Estimate, EstimateInput, NestReport, SheetsReport } from "../../src/estimate-data.ts";
import { outputFiles } from "../../src/exports/output-files.ts";
import type { Checked } from "../../src/problem.ts";
import { drain } from "./drain.ts";
import { parts, tables, text } from "../job/texts.ts";

/**
 * A small commission with something of everything: two stocks, one of them a roll, paint, fixings,
 * bars, hand work, and texts that a CSV has to quote.
 */

const DATED = "2026-01-01,test";

export const SMALL_PARTS = parts(
  'disc,2,birch plywood,4,,disc,,,60,,,any,,,"round, both sides"',
  "ring,3,birch plywood,4,,ring,,,50,20,,any,,reed,",
  "badge,5,card,1,,rectangle,70,30,,,,quarter,,,=not a formula",
);

export const SMALL_JOB = [
  SMALL_PARTS,
  text("job.yaml", [
    "title: Bird table, oiled",
    "customer: The Mill",
    "pieces: 3",
    "piece_name: table",
    "price:",
    "  delivery: 12.35",
  ]),
  text("hardware.csv", [
    "item,qty,per,part,hole diameter,note",
    "m5-bolt,1,hole,ring,20,",
    "m5-bolt,2,piece,,,",
  ]),
  text("lengths.csv", [
    "name,stock,length,qty,finish,note",
    "post,larch,900,2,,",
    "rail,larch,400,1,,",
  ]),
  text("hand-work.csv", ["task,part,qty,minutes,note", "assemble,,1,,"]),
];

export const SMALL_TABLES = tables({
  "settings.csv": [
    `contingency_percent,7.5,${DATED}`,
    `markup_percent,25,${DATED}`,
    `tax_percent,20,${DATED}`,
    `round_total_to,5,${DATED}`,
    `delivery,0,${DATED}`,
  ],
  "feeds.csv": [`own-card,own,card,1,cut,40,60,80,1,0.1,${DATED}`],
  "tasks.csv": [`spray,Spraying,coat m2,5,8,12,bench,painted,,Finishing,${DATED}`],
});

export const SMALL: EstimateInput = {
  jobName: "bird-table",
  job: SMALL_JOB,
  tables: SMALL_TABLES,
  seed: 1,
  steps: 1,
};

export function estimated(input: EstimateInput): Estimate {
  return valueOf(drain(estimate(input)));
}

export function nested(input: EstimateInput): NestReport {
  return valueOf(drain(nestJob(input)));
}

export function compared(input: EstimateInput): SheetsReport {
  return valueOf(drain(sheetsJob(input)));
}

function valueOf<T>({ value, problems }: Checked<T>): T {
  if (value === null) throw new Error(`the job has problems: ${JSON.stringify(problems, null, 1)}`);
  return value;
}

/** Names and texts of the files of a quote; those that are no text are left out. */
export function textFiles(estimate: Estimate): readonly { name: string; content: string }[] {
  return outputFiles(estimate).flatMap(({ name, content }) =>
    typeof content === "string" ? { name, content } : [],
  );
}

/** The small job with some of its texts replaced or added, by name. */
export function withTexts(
  input: EstimateInput,
  texts: Readonly<Record<string, string | readonly string[]>>,
): EstimateInput {
  const replaced = Object.entries(texts).map(([name, lines]) => text(name, lines));
  const kept = (all: EstimateInput["job"]): EstimateInput["job"] =>
    all.map((one) => replaced.find(({ name }) => name === one.name) ?? one);
  const known = new Set([...input.job, ...input.tables].map(({ name }) => name));
  const added = replaced.filter(({ name }) => !known.has(name));
  return { ...input, job: [...kept(input.job), ...added], tables: kept(input.tables) };
}
