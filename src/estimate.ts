import type {
  Estimate,
  EstimateInput,
  FitReport,
  NestReport,
  SheetsReport,
  TimeReport,
} from "./estimate-data.ts";
import type { Aide } from "./nesting/separation/lanes.ts";
import { checked } from "./problem.ts";
import type { Checked, Problem } from "./problem.ts";
import { alternativesReport } from "./stages/alternatives.ts";
import type { AlternativesReport } from "./stages/alternatives.ts";
import { assemble } from "./stages/assemble.ts";
import type { Prepared } from "./stages/assemble.ts";
import { barsMissing, planJobBars } from "./stages/bars.ts";
import { differencesBetween } from "./stages/differences.ts";
import type { DifferenceReport, Earlier } from "./stages/differences.ts";
import { keptEstimate } from "./stages/kept-estimate.ts";
import { sheetsReport } from "./stages/compare.ts";
import { priceRange } from "./stages/range.ts";
import { lotsReport } from "./stages/lots.ts";
import type { LotsReport } from "./stages/lots.ts";
import { nestSeveral } from "./stages/several.ts";
import { nestGroups } from "./stages/nest.ts";
import type { NestedGroup } from "./stages/sheets-tried.ts";
import type { ReadJob } from "./stages/read.ts";
import { readyToNest, readyToRun } from "./stages/ready.ts";
import type { ReadyToRun } from "./stages/ready.ts";
import { nestReport, timeReport } from "./stages/report.ts";
import { fitReport } from "./stages/slots.ts";
import { chooseSheets } from "./stages/whole-cost.ts";
import { feedWarnings } from "./stages/time.ts";
import { withBest } from "./work.ts";
import type { Work } from "./work.ts";

/**
 * The way of the data, from texts to an answer. Everything is pure: the shells read the texts, drain
 * the work and write what comes out.
 */

/** The whole job: read, nested, judged, timed and priced; with an aide, who helps with nesting. */
export function* estimate(
  input: EstimateInput,
  aide: Aide | null = null,
): Work<Checked<Estimate>, Estimate> {
  const { value: prepared, problems: found } = yield* prepare(input);
  if (!prepared) return { value: null, problems: found };
  const { groups, read } = prepared;
  const finish = (nested: readonly NestedGroup[]): Checked<Estimate> =>
    assemble({ ...prepared, nested });
  const nesting = nestGroups(groups, read.job.pieces, input, aide);
  const { value, problems } = finish(yield* withBest(nesting, (nested) => finish(nested).value));
  return { value: value && { ...value, range: priceRange(value) }, problems };
}

/** What the same job costs for other numbers of pieces, each nested anew. */
export function* lotsJob(
  input: EstimateInput,
  pieces: readonly number[],
  aide: Aide | null = null,
): Work<Checked<LotsReport>, LotsReport> {
  const ready = readyToRun(input, "quote");
  if (!ready.value) return { value: null, problems: ready.problems };
  const own = ready.value.read.job.pieces;
  const numbers = [...new Set([...pieces, own])].toSorted((one, other) => one - other);
  const inputs = numbers.map((number) => (number === own ? input : { ...input, pieces: number }));
  const report = (priced: readonly Checked<Estimate>[]): Checked<LotsReport> =>
    lotsReport({ numbers, own, priced });
  return report(yield* withBest(estimates(inputs, aide), (priced) => report(priced).value));
}

/** What the job costs with each of the materials and finishes that it names instead. */
export function* alternativesJob(
  input: EstimateInput,
  aide: Aide | null = null,
): Work<Checked<AlternativesReport>, AlternativesReport> {
  const ready = readyToRun(input, "quote");
  if (!ready.value) return { value: null, problems: ready.problems };
  const { value: own } = ready;
  const others = own.read.job.alternatives.map((instead) => ({ ...input, instead }));
  const report = (priced: readonly Checked<Estimate>[]): Checked<AlternativesReport> =>
    alternativesReport(own, priced);
  const work = estimates([input, ...others], aide);
  return report(yield* withBest(work, (priced) => report(priced).value));
}

/** Several jobs at once, in rounds together; those that can not be made do not stop the others. */
function* estimates(
  inputs: readonly EstimateInput[],
  aide: Aide | null,
): Work<readonly Checked<Estimate>[]> {
  const prepared: Checked<Prepared>[] = [];
  for (const input of inputs) {
    const alone = withBest<Checked<Prepared>, never, never>(prepare(input), () => null);
    prepared.push(yield* alone);
  }
  const jobs = prepared.flatMap(({ value }) => value ?? []);
  const priced = (all: readonly (readonly NestedGroup[])[]): readonly Checked<Estimate>[] =>
    prepared.map(({ value, problems }) => {
      const nested = value && all[jobs.indexOf(value)];
      return value && nested ? assemble({ ...value, nested }) : { value: null, problems };
    });
  return priced(yield* withBest(nestSeveral(jobs, aide), priced));
}

/** Everything up to the nest. */
function* prepare(input: EstimateInput): Work<Checked<Prepared>, never> {
  const ready = readyToRun(input, "quote");
  if (!ready.value) return { value: null, problems: ready.problems };
  const { job, tables } = ready.value.read;
  const planned = yield* planJobBars(job, tables);
  const { value: bars } = planned;
  if (!bars) return { value: null, problems: [...ready.problems, ...planned.problems] };
  return checked({ ...ready.value, input, bars, warnings: ready.problems }, ready.problems);
}

/** Only what lies where. Parts that found no place are part of the answer, and a problem. */
export function nestJob(
  input: EstimateInput,
  aide: Aide | null = null,
): Work<Checked<NestReport>, NestReport> {
  return nestedJob(input, aide, (report) => checked(report, []));
}

/** What lies where on all choices of sheets that were tried, compared once that is done. */
export function sheetsJob(
  input: EstimateInput,
  aide: Aide | null = null,
): Work<Checked<SheetsReport>, NestReport> {
  return nestedJob(input, aide, (report, read, nested, priceable) =>
    checked(sheetsReport({ report, read, nested, priceable }), feedWarnings(read, nested)),
  );
}

/**
 * Where all is there that a price takes, the sheets are those that `quote` would take.
 * @param answer from the report of the last nests.
 */
function* nestedJob<Answer>(
  input: EstimateInput,
  aide: Aide | null,
  answer: (
    report: NestReport,
    read: ReadJob,
    nested: readonly NestedGroup[],
    priceable: ReadyToRun | null,
  ) => Checked<Answer>,
): Work<Checked<Answer>, NestReport> {
  const ready = readyToNest(input, "nest");
  if (!ready.value) return { value: null, problems: ready.problems };
  const { read, groups } = ready.value;
  const priceable = readyToRun(input, "quote").value;
  const chosen = (nested: readonly NestedGroup[]): readonly NestedGroup[] =>
    priceable === null ? nested : chooseSheets(priceable, nested);
  const report = (nested: readonly NestedGroup[]): NestReport =>
    nestReport(read, nested, input.seed);
  const nesting = nestGroups(groups, read.job.pieces, input, aide);
  const nested = chosen(yield* withBest(nesting, (best) => report(chosen(best))));
  const answered = answer(report(nested), read, nested, priceable);
  return { value: answered.value, problems: [...ready.problems, ...answered.problems] };
}

/** What lies where, and how long the machine takes for it. */
export function* timeJob(
  input: EstimateInput,
  aide: Aide | null = null,
): Work<Checked<TimeReport>, TimeReport> {
  const ready = readyToRun(input, "time");
  if (!ready.value) return { value: null, problems: ready.problems };
  const { read, groups, machine } = ready.value;
  const priceable = readyToRun(input, "quote").value;
  const report = (nested: readonly NestedGroup[]): Checked<TimeReport> => {
    const chosen = priceable === null ? nested : chooseSheets(priceable, nested);
    return timeReport(read, machine, chosen, input.seed);
  };
  const nesting = nestGroups(groups, read.job.pieces, input, aide);
  const timed = report(yield* withBest(nesting, (nested) => report(nested).value));
  return { value: timed.value, problems: [...ready.problems, ...timed.problems] };
}

/** What became dearer or cheaper since an earlier estimate, or than another job, and what caused it. */
export function* differencesJob(
  input: EstimateInput,
  earlier: Earlier,
  aide: Aide | null = null,
): Work<Checked<DifferenceReport>, never> {
  const before =
    earlier.kind === "kept"
      ? keptEstimate(earlier.text)
      : yield* withBest<Checked<Estimate>, Estimate, never>(
          estimate(earlier.input, aide),
          () => null,
        );
  if (!before.value) return { value: null, problems: before.problems };
  const after = yield* withBest<Checked<Estimate>, Estimate, never>(
    estimate(input, aide),
    () => null,
  );
  return after.value === null
    ? { value: null, problems: after.problems }
    : differencesBetween(before.value, after.value, after.problems);
}

/** How the slots of the parts take the sheets, with the problems that stand in the way of knowing. */
export function fitJob(input: EstimateInput): Checked<FitReport> {
  const { value, problems } = readyToNest(input, "time");
  return { value: value === null ? null : fitReport(value.read), problems };
}

/** Every problem that can be known without nesting. */
export function checkJob(input: EstimateInput): readonly Problem[] {
  const { value, problems } = readyToRun(input, "quote");
  return value ? [...problems, ...barsMissing(value.read.job, value.read.tables)] : problems;
}
