import type {
  ComparedChoice,
  ComparedStock,
  NestReport,
  SheetsReport,
  SheetsUsed,
} from "../estimate-data.ts";
import type { Amount } from "../money.ts";
import { sheetArea } from "../geometry/sheet-area.ts";
import type { Nest } from "../nesting/types.ts";
import { leftoverFor } from "./leftovers.ts";
import { chosenNest, sheetsUsed } from "./nest.ts";
import type { NestedGroup } from "./nest.ts";
import type { ReadJob } from "./read.ts";
import { piecesOf } from "./stock-groups.ts";
import { feedsOf, timeNest } from "./time.ts";

/** The answer of `sheets`: every choice of sheets that was tried, by what one may choose them by. */
export function sheetsReport(
  nest: NestReport,
  read: ReadJob,
  nested: readonly NestedGroup[],
): SheetsReport {
  const { machine } = read;
  return {
    ...nest,
    machine: machine === null ? null : { id: machine.id, description: machine.description },
    compared: nested.flatMap((one) => compareGroup(one, read) ?? []),
  };
}

/** All choices that were tried for a group; null when no sheet was to be had. */
export function compareGroup(nested: NestedGroup, read: ReadJob): ComparedStock | null {
  const { group, outcome } = nested;
  const best = chosenNest(nested);
  if (best === null) return null;
  const { mix, bySize, costBound } = outcome;
  const choices = (mix === null ? bySize : [mix, ...bySize]).map((nest): ComparedChoice => {
    const used = sheetsUsed(nest);
    const leftover = leftoverFor(piecesOf(group, 1), nest);
    return {
      kind: nest === mix ? kindOf(used) : "size",
      used,
      sheets: used.reduce((sum, { bought }) => sum + bought, 0),
      cost: nest.sheetCost.toString(),
      machineS: machineSeconds(nested, nest, read),
      utilisation: nest.utilisation,
      wasteMm2:
        areaOf(nest) * (1 - nest.utilisation) -
        (leftover === null ? 0 : leftover.widthMm * leftover.heightMm),
      leftover,
      gapPercent: gapPercent(nest, costBound),
      complete: nest.unplaced.length === 0,
      chosen: nest === best,
    };
  });
  const { material, thicknessMm } = group;
  return { material, thicknessMm, costBound: costBound.toString(), choices };
}

function kindOf(used: readonly SheetsUsed[]): "mix" | "offcuts" {
  return used.some(({ offcut }) => offcut) ? "offcuts" : "mix";
}

/** Running, laying down and set-up; null where some copy has no place, or machine or feed are missing. */
function machineSeconds(
  nested: NestedGroup,
  nest: Nest,
  { job, tables, machine }: ReadJob,
): number | null {
  if (machine === null || nest.unplaced.length > 0) return null;
  const feeds = feedsOf(nested.group, tables, machine).value;
  if (feeds === null) return null;
  const times = timeNest(nested, nest, feeds, machine, job.commonCuts);
  const running = times.reduce((sum, { runningS }) => sum + runningS, 0);
  return running + SECONDS * (machine.setupMinutes + machine.loadMinutes * times.length);
}

const SECONDS = 60;
const PERCENT = 100;

/** How far the cost is above the bound; null where some copy has no place, or nothing to compare with. */
function gapPercent({ unplaced, sheetCost }: Nest, bound: Amount): number | null {
  if (unplaced.length > 0) return null;
  if (sheetCost.eq(bound)) return 0;
  return bound.isZero() ? null : sheetCost.minus(bound).times(PERCENT).div(bound).toNumber();
}

function areaOf({ sheets }: Nest): number {
  return sheets.reduce((sum, sheet) => sum + sheetArea(sheet), 0);
}
