import type {
  ComparedChoice,
  ComparedStock,
  NestReport,
  SheetsReport,
  SheetsUsed,
} from "../estimate-data.ts";
import { sheetArea } from "../geometry/sheet-area.ts";
import { leastRunningTime, runningTime } from "../machine/sheet-time.ts";
import type { SheetWork } from "../machine/types.ts";
import { handlingMinutes } from "../job/handling.ts";
import type { Amount } from "../money.ts";
import type { Nest } from "../nesting/types.ts";
import type { ReadJob } from "./read.ts";
import { offcutsNotUsed } from "./offcuts-left.ts";
import type { ReadyToRun } from "./ready.ts";
import { chosenNest, nestsTried, sheetsTried, sheetsUsed } from "./sheets-tried.ts";
import type { NestedGroup } from "./sheets-tried.ts";
import { feedsOf, nestWork } from "./time.ts";
import { WholeCost } from "./whole-cost.ts";

interface Nested {
  readonly report: NestReport;
  readonly read: ReadJob;
  readonly nested: readonly NestedGroup[];
  /** Null where there is no price. */
  readonly priceable: ReadyToRun | null;
}

/** The answer of `sheets`: every choice of sheets that was tried, by what one may choose them by. */
export function sheetsReport({ report, read, nested, priceable }: Nested): SheetsReport {
  const { machine } = read;
  const whole = priceable && new WholeCost(priceable);
  const costOf: CostOf = (group, nest) => whole?.of(nested, group, nest) ?? null;
  return {
    ...report,
    machine: machine === null ? null : { id: machine.id, description: machine.description },
    compared: nested.flatMap((one) => compareGroup(one, read, costOf) ?? []),
  };
}

type CostOf = (group: NestedGroup, nest: Nest) => Amount | null;

function compareGroup(nested: NestedGroup, read: ReadJob, costOf: CostOf): ComparedStock | null {
  const { group, outcome } = nested;
  const chosen = chosenNest(nested);
  if (chosen === null) return null;
  const { mix, boughtMix, costBound } = outcome;
  const choices = nestsTried(nested).map((nest): ComparedChoice => {
    const used = sheetsUsed(nest);
    const tried = sheetsTried(nested, nest);
    const { leftover } = tried;
    const keptMm2 = leftover === null ? 0 : leftover.widthMm * leftover.heightMm;
    return {
      ...tried,
      kind: nest === mix || nest === boughtMix ? kindOf(used) : "size",
      used,
      machineS: machineSeconds(nested, nest, read),
      jobCost: costOf(nested, nest)?.toString() ?? null,
      wasteMm2: areaOf(nest) * (1 - nest.utilisation) - keptMm2,
    };
  });
  const { material, thicknessMm } = group;
  const offcutsLeft = offcutsNotUsed(nested, chosen, read);
  return { material, thicknessMm, costBound: costBound.toString(), choices, offcutsLeft };
}

function kindOf(used: readonly SheetsUsed[]): "mix" | "offcuts" {
  return used.some(({ offcut }) => offcut) ? "offcuts" : "mix";
}

/**
 * Running, laying down and set-up; null where some copy has no place, or machine or feed are missing.
 * @param under what it is wanted to be less than: null as well where no order can make it so.
 */
export function machineSeconds(
  nested: NestedGroup,
  nest: Nest,
  { job, tables, machine }: ReadJob,
  under = Infinity,
): number | null {
  if (machine === null || nest.unplaced.length > 0) return null;
  const feeds = feedsOf(nested.group, tables, machine).value;
  if (feeds === null) return null;
  const work = nestWork(nested.group, nest, feeds, machine, job.commonCuts);
  const handledS = SECONDS * handlingMinutes(machine, work.length);
  if (under < Infinity && handledS + total(work, leastRunningTime) >= under) return null;
  return handledS + total(work, runningTime);
}

const SECONDS = 60;

function total(work: readonly SheetWork[], of: (sheet: SheetWork) => number): number {
  return work.reduce((sum, sheet) => sum + of(sheet), 0);
}

function areaOf({ sheets }: Nest): number {
  return sheets.reduce((sum, sheet) => sum + sheetArea(sheet), 0);
}
