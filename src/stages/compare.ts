import type {
  ComparedChoice,
  ComparedStock,
  NestReport,
  SheetsReport,
  SheetsUsed,
} from "../estimate-data.ts";
import { sheetArea } from "../geometry/sheet-area.ts";
import { runningTime } from "../machine/sheet-time.ts";
import { handlingMinutes } from "../job/handling.ts";
import type { Nest } from "../nesting/types.ts";
import type { ReadJob } from "./read.ts";
import { chosenNest, sheetsTried, sheetsUsed } from "./sheets-tried.ts";
import type { NestedGroup } from "./sheets-tried.ts";
import { feedsOf, nestWork } from "./time.ts";

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

function compareGroup(nested: NestedGroup, read: ReadJob): ComparedStock | null {
  const { group, outcome } = nested;
  if (chosenNest(nested) === null) return null;
  const { mix, boughtMix, bySize, costBound } = outcome;
  const mixes = [mix, boughtMix].filter((nest) => nest !== null);
  const choices = [...mixes, ...bySize].map((nest): ComparedChoice => {
    const used = sheetsUsed(nest);
    const tried = sheetsTried(nested, nest);
    const { leftover } = tried;
    const keptMm2 = leftover === null ? 0 : leftover.widthMm * leftover.heightMm;
    return {
      ...tried,
      kind: mixes.includes(nest) ? kindOf(used) : "size",
      used,
      machineS: machineSeconds(nested, nest, read),
      wasteMm2: areaOf(nest) * (1 - nest.utilisation) - keptMm2,
    };
  });
  const { material, thicknessMm } = group;
  return { material, thicknessMm, costBound: costBound.toString(), choices };
}

function kindOf(used: readonly SheetsUsed[]): "mix" | "offcuts" {
  return used.some(({ offcut }) => offcut) ? "offcuts" : "mix";
}

/** Running, laying down and set-up; null where some copy has no place, or machine or feed are missing. */
export function machineSeconds(
  nested: NestedGroup,
  nest: Nest,
  { job, tables, machine }: ReadJob,
): number | null {
  if (machine === null || nest.unplaced.length > 0) return null;
  const feeds = feedsOf(nested.group, tables, machine).value;
  if (feeds === null) return null;
  const work = nestWork(nested.group, nest, feeds, machine, job.commonCuts);
  const running = work.reduce((sum, sheet) => sum + runningTime(sheet), 0);
  return running + SECONDS * handlingMinutes(machine, work.length);
}

const SECONDS = 60;
function areaOf({ sheets }: Nest): number {
  return sheets.reduce((sum, sheet) => sum + sheetArea(sheet), 0);
}
