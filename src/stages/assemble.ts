import type { Estimate, EstimateInput } from "../estimate-data.ts";
import type { Job, Tables } from "../job/types.ts";
import { cautionsFor } from "../machine/cautions.ts";
import type { CautionInput } from "../machine/cautions.ts";
import { priceJob } from "../pricing/price.ts";
import { sheetCharge } from "../pricing/sheet-charge.ts";
import { itemsUsed } from "../pricing/joints.ts";
import { tasksOf } from "../pricing/tasks.ts";
import type { PlannedBars, Priced } from "../pricing/types.ts";
import type { Checked, Problem } from "../problem.ts";
import { stockName } from "../units.ts";
import { sawnBars } from "./bars.ts";
import { pricedStock } from "./priced-stock.ts";
import type { NestedGroup } from "./sheets-tried.ts";
import type { ReadyToRun } from "./ready.ts";
import { chooseSheets } from "./whole-cost.ts";
import { estimatedParts, timeGroups } from "./report.ts";
import type { TimedGroup } from "./report.ts";

/** A job with all that is known before it is nested. */
export interface Prepared extends ReadyToRun {
  readonly input: EstimateInput;
  readonly bars: readonly PlannedBars[];
  /** What was found on the way here; no errors. */
  readonly warnings: readonly Problem[];
}

interface Assembly extends Prepared {
  readonly nested: readonly NestedGroup[];
}

/** From a judged nest to the whole estimate: times, prices, cautions. */
export function assemble(assembly: Assembly): Checked<Estimate> {
  const { read, machine, bars, warnings } = assembly;
  const nested = chooseSheets(assembly, assembly.nested);
  const timed = timeGroups(nested, read, machine);
  const { currency } = read.tables;
  if (!timed.value || !currency) return { value: null, problems: [...warnings, ...timed.problems] };
  const stocks = timed.value.flatMap(
    ({ stock: { leftover }, ...one }) => pricedStock({ ...one, leftover }) ?? [],
  );
  const { job, tables, parts } = read;
  const priced = priceJob({ job, tables, currency, machine, parts, stocks, bars });
  const problems = [...warnings, ...timed.problems, ...priced.problems];
  if (!priced.value) return { value: null, problems };
  return {
    value: {
      ...heading(assembly),
      currency,
      ...answers(assembly, timed.value, priced.value),
      warnings: problems,
    },
    problems,
  };
}

function heading({ input, read: { job }, machine }: Assembly) {
  return {
    version: 1,
    jobName: input.jobName,
    title: job.title,
    customer: job.customer,
    reference: job.reference,
    date: job.date,
    pieces: job.pieces,
    pieceName: job.pieceName,
    notes: job.notes,
    machine: { id: machine.id, description: machine.description },
    seed: input.seed,
    madeFrom: [...input.job, ...input.tables].map(({ name, sha256 }) => ({ name, sha256 })),
  } as const;
}

function answers(
  { read, nested, bars }: Assembly,
  timed: readonly TimedGroup[],
  { figures, quote, shopping, making, leadTime, terms }: Priced,
) {
  return {
    steps: nested[0]?.outcome.steps ?? 0,
    parts: estimatedParts(read),
    stocks: timed.map(({ stock }) => stock),
    figures,
    quote,
    shopping,
    making,
    leadTime,
    terms,
    bars: bars.map(sawnBars),
    sheetCharge: sheetCharge(read),
    range: null,
    cautions: cautionsFor(cautionInput(read.job, read.tables, nested)),
  };
}

/** What of the job may hurt somebody: beams, spray, and the hazards its items and tasks name. */
function cautionInput(job: Job, tables: Tables, nested: readonly NestedGroup[]): CautionInput {
  const bars = tables.stockLengths.filter(({ id }) =>
    job.lengths.some(({ stock }) => stock === id),
  );
  const panels = nested.filter(({ group }) => group.rows.some((row) => row.panels !== undefined));
  const used = itemsUsed({ job, tables });
  const items = tables.hardware.filter(({ id }) => used.has(id));
  const tasks = tasksOf({ job, tables }).map(({ task }) => task);
  return {
    laserCut: job.parts.map(({ material }) => material),
    sawn: [
      ...bars.map(({ description }) => description),
      ...panels.map(({ group }) => `panels of ${stockName(group)}`),
    ],
    painted: job.parts
      .filter(({ finish }) => finish !== null)
      .map(({ name, material }) => ({ part: name, material })),
    hazards: [...items, ...tasks].flatMap(({ hazard, description }) =>
      hazard === "" ? [] : [{ hazard, what: description }],
    ),
  };
}
