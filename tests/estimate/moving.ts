import type { EstimateInput } from "../../src/estimate-data.ts";
import { readRecords } from "../../src/csv.ts";
import { collectIntake } from "../../src/job/intake.ts";
import { jobTables } from "../../src/job/job.ts";
import { baseName } from "../../src/job/table.ts";
import { collectTables } from "../../src/job/tables.ts";
import type { MachineRow, Tables } from "../../src/job/types.ts";
import { priceJob } from "../../src/pricing/price.ts";
import type { FigureRecord, PlannedBars } from "../../src/pricing/types.ts";
import { isError, placeText } from "../../src/problem.ts";
import type { Place } from "../../src/problem.ts";
import { planJobBars } from "../../src/stages/bars.ts";
import { nestGroups } from "../../src/stages/nest.ts";
import { pricedStock } from "../../src/stages/priced-stock.ts";
import { readInput } from "../../src/stages/read.ts";
import type { ReadJob } from "../../src/stages/read.ts";
import { readyToRun } from "../../src/stages/ready.ts";
import { timeGroups } from "../../src/stages/report.ts";
import type { TimedGroup } from "../../src/stages/report.ts";
import type { NestedGroup } from "../../src/stages/sheets-tried.ts";
import { drain } from "../helpers/drain.ts";

/** A job priced once, to be priced again with other numbers in its tables and the same nest. */
export interface PricedOnce {
  readonly input: EstimateInput;
  readonly read: ReadJob;
  readonly machine: MachineRow;
  readonly bars: readonly PlannedBars[];
  readonly timed: readonly TimedGroup[];
  readonly figures: readonly FigureRecord[];
}

/** A number in a file. */
export interface Cell {
  /** As places name it: `price-tables/rates.csv`, `tables/sheets.csv`, `hardware.csv`. */
  readonly file: string;
  readonly line: number;
  readonly column: string;
  readonly text: string;
}

/**
 * @param input with few steps; of the nest that comes of it each sheet keeps one copy of each part, so
 *   that timing is quick. Prices are of that nest.
 */
export function pricedOnce(input: EstimateInput): PricedOnce {
  const ready = readyToRun(input, "quote").value;
  if (ready === null) throw new Error("the job can not be run");
  const { read, groups, machine } = ready;
  const bars = plannedBars(read);
  const nested = drain(nestGroups(groups, read.job.pieces, input, null)).map(oneOfEach);
  if (bars === null) throw new Error("the bars can not be planned");
  const timed = timeGroups(nested, read, machine).value;
  if (timed === null) throw new Error("the sheets can not be timed");
  const once = { input, read, machine, bars, timed, figures: [] };
  const figures = priced(once, read, timed);
  if (figures === null) throw new Error("the job can not be priced");
  return { ...once, figures };
}

function oneOfEach({ group, outcome }: NestedGroup): NestedGroup {
  const { best } = outcome;
  if (best === null) throw new Error(`no nest of ${group.material}`);
  const sheets = best.sheets.map((sheet) => {
    const first = new Map(sheet.placements.toReversed().map((one) => [one.part, one]));
    return { ...sheet, placements: [...first.values()] };
  });
  return { group, outcome: { ...outcome, best: { ...best, sheets } } };
}

function plannedBars({ job, tables }: Pick<ReadJob, "job" | "tables">): PricedOnce["bars"] | null {
  return drain(planJobBars(job, tables)).value;
}

function priced(
  { machine: { id }, bars }: Pick<PricedOnce, "machine" | "bars">,
  { job, tables, parts }: ReadJob,
  timed: readonly TimedGroup[],
): readonly FigureRecord[] | null {
  const machine = tables.machines.find((one) => one.id === id);
  const { currency } = tables;
  if (machine === undefined || currency === null) return null;
  const stocks = timed.flatMap(
    ({ stock: { leftover }, ...one }) => pricedStock({ ...one, leftover }) ?? [],
  );
  return priceJob({ job, tables, currency, machine, parts, stocks, bars }).value?.figures ?? null;
}

/**
 * The figures with other numbers in some cells; null where there is no price with them. The nest stays;
 * bars are planned anew, parts read and sheets timed anew where the files may matter for it.
 */
export function pricedAgain(
  once: PricedOnce,
  cells: readonly Cell[],
): readonly FigureRecord[] | null {
  const input = withCells(once.input, cells);
  const files = new Set(cells.map(({ file }) => file));
  const read = reread(once, input, files);
  if (read === null) return null;
  const timed = regrouped(once, read);
  const anew = [...files].some((file) => TIMED.has(baseName(file)));
  const machine = read.tables.machines.find(({ id }) => id === once.machine.id);
  if (machine === undefined) return null;
  const nested = timed.map((one) => one.nested);
  const again = anew ? timeGroups(nested, read, machine).value : timed;
  const bars = [...files].some((file) => /lengths/.test(file)) ? plannedBars(read) : once.bars;
  return again && bars && priced({ ...once, bars }, read, again);
}

/** Tables that parts and times hang on; all others are read alone. */
const TIMED = new Set(["feeds.csv", "machines.csv", "kerfs.csv", "fits.csv"]);

function reread(
  once: PricedOnce,
  input: EstimateInput,
  files: ReadonlySet<string>,
): ReadJob | null {
  const { read } = once;
  const names = new Set([...files].map(baseName));
  if ([...names].some((name) => TIMED.has(name))) {
    const again = readInput(input, "quote");
    return again.problems.some(isError) ? null : again.read;
  }
  if ([...files].some(isList)) {
    const { job, tables, problems } = collectIntake(input, "quote");
    return problems.some(isError) ? null : { ...read, job, tables };
  }
  return { ...read, tables: merged(read.tables, tablesAlone(once, input, files).tables, names) };
}

/** Lists of the job stand in its folder, tables in one of theirs. */
function isList(file: string): boolean {
  return !file.includes("/");
}

/** Reads the tables of some names and no others. */
function tablesAlone(
  { read }: Pick<PricedOnce, "read">,
  { job, tables }: EstimateInput,
  files: ReadonlySet<string>,
): ReturnType<typeof collectTables> {
  const names = new Set([...files].map(baseName));
  const only = (texts: EstimateInput["tables"]) =>
    texts.filter(({ name }) => names.has(baseName(name)));
  return collectTables({ builtIn: only(tables), ofJob: only(jobTables(job)), date: read.job.date });
}

function merged(before: Tables, now: Tables, names: ReadonlySet<string>): Tables {
  const { currency, currencyPlace, machine, settings, rules, wordings, ...rows } = now;
  const given = Object.entries(rows).filter(([, list]) => list.length > 0);
  const said = { currency, currencyPlace, machine, settings, rules, wordings };
  return { ...before, ...Object.fromEntries(given), ...(names.has("settings.csv") ? said : {}) };
}

/** The groups with their parts and rows as they are read now. */
function regrouped({ timed }: PricedOnce, { parts, tables }: ReadJob): readonly TimedGroup[] {
  const sheets = new Map(tables.sheets.map((row) => [placeText(row.place), row]));
  return timed.map((one) => {
    const { group } = one.nested;
    const names = new Set(group.parts.map(({ part }) => part.name));
    return {
      ...one,
      nested: {
        ...one.nested,
        group: {
          ...group,
          parts: parts.filter(({ part }) => names.has(part.name)),
          rows: group.rows.map((row) => ({ ...row, ...sheets.get(placeText(row.place)) })),
        },
      },
    };
  });
}

function withCells(input: EstimateInput, cells: readonly Cell[]): EstimateInput {
  const changed = (texts: EstimateInput["tables"]): EstimateInput["tables"] =>
    texts.map((one) => {
      const its = cells.filter(({ file }) => file === one.name);
      return its.length === 0 ? one : { ...one, text: written(one.text, its) };
    });
  return { ...input, job: changed(input.job), tables: changed(input.tables) };
}

/** @param cells of one file, as they are to be. */
function written(text: string, cells: readonly Cell[]): string {
  const { records, separator } = readRecords(cells[0]?.file ?? "", text);
  const header = records[0]?.cells ?? [];
  const lines = text.split("\n");
  for (const record of records) {
    const its = cells.filter(({ line }) => line === record.line);
    if (its.length === 0) continue;
    const now = record.cells.map(
      (cell, at) => its.find(({ column }) => column === header[at])?.text ?? cell,
    );
    lines[record.line - 1] = now.map((one) => `"${one.replaceAll('"', '""')}"`).join(separator);
  }
  return lines.join("\n");
}

/** Every number of the tables and of the job's lists that pricing reads, as it stands. */
export function numbersOf({ job, tables }: EstimateInput): readonly Cell[] {
  const lists = job.filter(({ name }) => LISTS.has(name));
  return [...tables, ...jobTables(job), ...lists]
    .filter(({ name }) => name.endsWith(".csv"))
    .flatMap(({ name, text }) => {
      const [head, ...rows] = readRecords(name, text).records;
      return rows.flatMap(({ line, cells }) =>
        cells.flatMap((cell, index) => {
          const column = head?.cells[index] ?? "";
          const isNumber = /^-?\d+(\.\d+)?$/.test(cell) && !KEYS.has(column);
          return isNumber ? [{ file: name, line, column, text: cell }] : [];
        }),
      );
    });
}

const LISTS = new Set(["hardware.csv", "lengths.csv", "hand-work.csv"]);
/** What ties rows to each other: another number there is another row. */
const KEYS = new Set(["thickness_mm", "hole diameter"]);

/**
 * The cells with other numbers, as far from what stands there as their columns take; a cell that takes
 * none of those tried is left out.
 */
export function moved(once: PricedOnce, cells: readonly Cell[]): readonly Cell[] {
  let tries = cells.map((cell) => ({ cell, others: othersFor(cell) }));
  for (;;) {
    const now = tries.map(({ cell, others }) => ({ ...cell, text: others[0] ?? "" }));
    const faults = faultsIn(once, now);
    if (faults.length === 0) return now;
    const refused = ({ cell }: (typeof tries)[number]): boolean => {
      const row = now.filter((one) => rowOf(one) === rowOf(cell));
      return faults
        .filter((fault) => rowOf(fault) === rowOf(cell))
        .some(({ column }) => column === cell.column || !isOneOf(column, row));
    };
    tries = tries
      .map((one) => (refused(one) ? { ...one, others: one.others.slice(1) } : one))
      .filter(({ others }) => others.length > 0);
  }
}

function isOneOf(column: string | null, cells: readonly Cell[]): boolean {
  return cells.some((cell) => cell.column === column);
}

/** From those that move most: what is refused is for the next to try. */
function othersFor({ text }: Cell): readonly string[] {
  const value = Number(text);
  const all = [value * 3, value * 1.5, value * 1.1, value + 1, value * 0.5, value + 0.05];
  const written = all.map((one) => String(Number(one.toFixed(2))));
  return [...new Set(written)].filter((one) => Number(one) !== value);
}

/** What is said of the rows of these cells. */
function faultsIn(once: PricedOnce, cells: readonly Cell[]): readonly Place[] {
  const rows = new Set(cells.map(rowOf));
  const files = new Set(cells.map(({ file }) => file));
  const input = withCells(once.input, cells);
  const problems = [...files].some(isList)
    ? collectIntake(input, "quote").problems
    : tablesAlone(once, input, files).problems;
  // Of one table alone it is not known what the others have.
  return problems.filter(
    (one) => isError(one) && one.code !== "unknown-reference" && rows.has(rowOf(one)),
  );
}

/** `price-tables/rates.csv:2` */
export function rowOf({ file, line }: Pick<Place, "file" | "line">): string {
  return `${file}:${line}`;
}
