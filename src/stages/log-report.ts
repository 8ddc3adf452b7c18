import type { EstimateInput, LogReport, ProposedFeed, ProposedTask } from "../estimate-data.ts";
import { jobTables } from "../job/job.ts";
import { readTables } from "../job/tables.ts";
import type { SourceText, Tables } from "../job/types.ts";
import { corrections } from "../log/comparison.ts";
import { readLog } from "../log/book.ts";
import { measuredFeeds } from "../log/measured-feeds.ts";
import type { MeasuredFeed } from "../log/measured-feeds.ts";
import { measuredTasks } from "../log/measured-tasks.ts";
import type { MeasuredTask } from "../log/measured-tasks.ts";
import { chooseFeeds } from "../machine/feeds.ts";
import { counted } from "../names.ts";
import type { Checked } from "../problem.ts";
import { sameThickness } from "../units.ts";

/** What the log tells, and which rows of feeds.csv would follow from it. No table is changed. */
export function logReport(
  input: Pick<EstimateInput, "job" | "tables">,
  log: SourceText,
): Checked<LogReport> {
  const entries = readLog(log);
  const tables = readTables(input.tables, jobTables(input.job), null);
  const problems = [...entries.problems, ...tables.problems];
  const { value: rows } = tables;
  if (!entries.value || !rows) return { value: null, problems };
  const history = entries.value.filter(({ took }) => took !== null);
  const feeds = measuredFeeds(entries.value);
  return {
    value: {
      version: 1,
      history,
      corrections: corrections(entries.value),
      proposed: feeds.measured.flatMap((one) => proposal(one, rows) ?? []),
      withheld: feeds.withheld,
      proposedTasks: measuredTasks(entries.value).flatMap((one) => taskProposal(one, rows) ?? []),
    },
    problems,
  };
}

/** Nothing where a measured row says the same already, as far as the runs can tell. */
function proposal(measured: MeasuredFeed, tables: Tables): ProposedFeed | null {
  const { machine, material, thicknessMm, operation, between, likely, passes, runs } = measured;
  const now = chooseFeeds(tables, machine, material, thicknessMm, [operation]).value?.[0];
  if (now === undefined) return null;
  const speed = (now.feedMmS.likely / now.passes) * passes;
  const isTold = between === null || (between[0] <= speed && speed <= between[1]);
  if (now.measured && now.rule === null && isTold) return null;
  const row = tables.feeds.find(
    (one) => one.place === now.place && sameThickness(one.thicknessMm, thicknessMm),
  );
  const id = [machine, material, String(thicknessMm), operation].join("-");
  return {
    ...measured,
    id: row?.id ?? id.toLowerCase().replaceAll(" ", "-"),
    pierceS: now.pierceS,
    pricePerM: now.pricePerM?.toString() ?? null,
    source: `measured, ${counted(runs, "run")} of the shop log`,
    now: now.feedMmS.likely,
    likely,
  };
}

/** Nothing where the table's minutes are as likely as any. */
function taskProposal(measured: MeasuredTask, { tasks }: Tables): ProposedTask | null {
  const row = tasks.find(({ id }) => id === measured.task);
  const { between, runs } = measured;
  const now = row?.minutes.likely ?? 0;
  if (row === undefined || (between[0] <= now && now <= between[1])) return null;
  const { description, basis, rate, usual, hazard, section, onQuote } = row;
  const learningPercent = row.learningPercent?.toString() ?? null;
  const suppliesEach = row.suppliesEach?.toString() ?? null;
  const source = `measured, ${counted(runs, "job")} of the shop log`;
  const kept = { description, basis, rate, usual, hazard, section, onQuote };
  return { ...measured, ...kept, learningPercent, suppliesEach, source, now };
}
