import { writeCsv } from "../csv.ts";
import type { LogReport, ProposedFeed } from "../estimate-data.ts";
import { FAR_OFF } from "../log/factors.ts";
import { counted } from "../names.ts";
import { lengthText, trimmed } from "../units.ts";
import { columns, wrapped } from "./wrap.ts";

const WIDTH = 80;

/** Estimate against actual over time, what it comes to, and the rows that would follow from it. */
export function logText(report: LogReport): string {
  const blocks = [
    historyLines(report),
    factorLines(report),
    proposalLines(report),
    withheldLines(report),
    taskLines(report),
  ];
  return `${blocks
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join("\n"))
    .join("\n\n")}\n`;
}

function historyLines({ history }: LogReport): readonly string[] {
  const head = ["done", "job", "", "estimated", "took", "", "ratio"];
  // Of "cans of 400 ml" what is counted.
  const rows = history.map((row) => [
    row.done,
    row.job,
    whatText(row),
    trimmed(row.estimated, 1),
    trimmed(row.took ?? 0, 1),
    row.unit.replace(/ .*/, ""),
    row.estimated === 0 ? "" : ratioText((row.took ?? 0) / row.estimated),
  ]);
  return rows.length === 0 ? ["Nothing was noted yet."] : columns([head, ...rows], [3, 4, 6]);
}

function whatText({ what, item, operation }: LogReport["history"][number]): string {
  if (what !== "machine") return item;
  return `${item}, ${operation === "all" ? "whole run" : (operation ?? "")}`;
}

function factorLines({ corrections }: LogReport): readonly string[] {
  if (corrections.length === 0) return [];
  const rows = corrections.map(({ name, what, operations, factor, between, next, runs, jobs }) => [
    `  ${what === "machine" ? `${name}, ${operations.join(" + ")}` : name}`,
    ratioText(factor),
    between === null ? "too few to tell" : rangeText(between),
    next === null ? "" : rangeText(next),
    runs === jobs ? counted(runs, "run") : `${counted(runs, "run")} of ${counted(jobs, "job")}`,
  ]);
  const head = ["Took over estimated", "", "between", "the next", ""];
  const unsure = corrections.some(
    ({ between }) => between === null || between[1] / between[0] > WIDE,
  );
  return [
    ...columns([head, ...rows], [1]),
    ...wrapped(unsure ? `${FACTORS} ${UNSURE}` : FACTORS, WIDTH),
    ...leftOutLines(corrections),
  ];
}

function leftOutLines(corrections: LogReport["corrections"]): readonly string[] {
  const rows = corrections.flatMap(({ leftOut }) => leftOut);
  if (rows.length === 0) return [];
  const named = rows.map((row) => `  ${row.done}  ${row.job}  ${whatText(row)}`);
  return [...wrapped(LEFT_OUT, WIDTH), ...new Set(named)];
}

const LEFT_OUT = `Left out, more than ${FAR_OFF} times off the others; if it is a slip, correct it in the form of the job and record it again:`;

/** Half as much again from one end to the other. */
const WIDE = 1.5;

const FACTORS =
  "A robust mean of the runs, in which odd ones count less; it lies between the two numbers, and the next run between the two after them, in 8 of 10 cases. Nothing is multiplied by it.";
const UNSURE =
  "Where there are few runs, or they are uneven, the two numbers are far apart: note more jobs before you rely on it.";

function ratioText(value: number): string {
  return value.toFixed(2);
}

function rangeText([low, high]: readonly [number, number]): string {
  return `${ratioText(low)} to ${ratioText(high)}`;
}

function proposalLines({ proposed }: LogReport): readonly string[] {
  if (proposed.length === 0) return [];
  const said = proposed.map((one) => {
    const { machine, material, thicknessMm, operation, likely, now } = one;
    return `  ${operation} ${material} ${lengthText(thicknessMm)} on ${machine}: ${trimmed(likely, 2)} mm/s, now ${trimmed(now, 2)}`;
  });
  return [
    "Rows for feeds.csv, if you agree (no table has been changed):",
    ...said,
    "",
    ...proposedCsv(proposed).trimEnd().split("\r\n"),
  ];
}

/** What was taken for granted, and what is not told. */
function withheldLines({ proposed, withheld }: LogReport): readonly string[] {
  const plain = proposed.some(({ unbent }) => unbent > 0) ? wrapped(UNBENT, WIDTH) : [];
  const said = withheld.flatMap(({ machine, material, thicknessMm, operation, why }) =>
    wrapped(
      `${operation} ${material} ${lengthText(thicknessMm)} on ${machine}: ${WITHHELD[why]}`,
      WIDTH,
      "  ",
    ),
  );
  return [...plain, ...(said.length === 0 ? [] : ["No row proposed:", ...said])];
}

const UNBENT =
  "Rows without half_feed_min and twice_feed_min, of an older form, count as if corners and starts took no longer at a higher feed: of filigree parts the feed comes out too high.";

const WITHHELD: Readonly<Record<LogReport["withheld"][number]["why"], string>> = {
  "far off": `one job alone, and more than ${FAR_OFF} times off its estimate. See whether that is a slip; a second job that says the same makes a row.`,
  apart: "the runs contradict each other by more than published feeds do. Note more jobs.",
  slowed:
    "so short or so bent are its lines that the time says little of the feed. Time a job with longer ones.",
};

function taskLines({ proposedTasks }: LogReport): readonly string[] {
  if (proposedTasks.length === 0) return [];
  const said = proposedTasks.map(
    ({ task, basis, likely, now }) =>
      `  ${task}, a ${basis}: ${trimmed(likely, 1)} min, now ${trimmed(now, 1)}`,
  );
  const further = FURTHER_TASK_COLUMNS.filter(([, of]) => proposedTasks.some((row) => of(row)));
  const rows = proposedTasks.map((row) => [
    row.task,
    row.description,
    row.basis,
    ...[row.low, row.likely, row.high].map((minutes) => trimmed(minutes, 2)),
    row.rate,
    row.usual,
    row.hazard,
    row.section,
    row.onQuote,
    row.done,
    row.source,
    ...further.map(([, of]) => of(row) ?? ""),
  ]);
  const header = [...TASK_HEADER, ...further.map(([name]) => name)];
  const csv = writeCsv(header, rows).trimEnd().split("\r\n");
  return ["Rows for tasks.csv, if you agree:", ...said, "", ...csv];
}

/** Where a row has something under them. */
const FURTHER_TASK_COLUMNS: readonly (readonly [
  string,
  (row: LogReport["proposedTasks"][number]) => string | null,
])[] = [
  ["learning_percent", ({ learningPercent }) => learningPercent],
  ["supplies_each", ({ suppliesEach }) => suppliesEach],
];

const TASK_HEADER =
  "id,description,basis,minutes_low,minutes,minutes_high,rate,usual,hazard,section,on_quote,valid_from,source".split(
    ",",
  );

/** With a header, so that it can be the `tables/feeds.csv` of a job as it stands. */
function proposedCsv(proposed: readonly ProposedFeed[]): string {
  const priced = proposed.some(({ pricePerM }) => pricePerM !== null);
  const rows = proposed.map((row) => [
    row.id,
    row.machine,
    row.material,
    trimmed(row.thicknessMm, 4),
    row.operation,
    ...[row.low, row.likely, row.high].map((feed) => trimmed(feed, 2)),
    String(row.passes),
    trimmed(row.pierceS, 3),
    "yes",
    row.done,
    row.source,
    ...(priced ? [row.pricePerM ?? ""] : []),
  ]);
  return writeCsv(priced ? [...FEED_HEADER, "price_per_m"] : FEED_HEADER, rows);
}

const FEED_HEADER =
  "id,machine,material,thickness_mm,operation,feed_low_mm_s,feed_mm_s,feed_high_mm_s,passes,pierce_s,measured,valid_from,source".split(
    ",",
  );
