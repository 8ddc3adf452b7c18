import type { Shortening } from "../estimate-data.ts";
import type { DrawnTwice } from "../drawing/types.ts";
import { pathLength } from "../geometry/path.ts";
import type { CommonCuts, MachineRow } from "../job/types.ts";
import { stopsAsDrawn } from "../machine/order.ts";
import { runningTime, travelLength, travelTime } from "../machine/sheet-time.ts";
import { cutStops } from "../machine/stops.ts";
import type { SheetWork } from "../machine/types.ts";
import { workedTwice } from "../machine/work.ts";
import { machineSeconds } from "./compare.ts";
import type { ReadJob } from "./read.ts";
import type { TimedGroup } from "./report.ts";
import { sheetsUsed } from "./sheets-tried.ts";
import { cutGeometry, nestWork } from "./time.ts";

/**
 * What would take less of the machine's time, and what does already: nothing is guessed, the same
 * sheets are timed with and without it.
 */

/** Those that apply to a material and thickness. */
export function shorteningOf(
  timed: TimedGroup,
  read: ReadJob,
  machine: MachineRow,
): readonly Shortening[] {
  const { material, thicknessMm } = timed.stock;
  const { nested, nest, feeds } = timed;
  const work = nestWork(nested.group, nest, feeds, machine, read.job.commonCuts);
  const found = [
    commonCuts(timed, work),
    otherSheets(timed, read),
    drawnTwice(timed, work),
    order(timed, work),
  ];
  return found.flatMap((one) =>
    one === null || one.savesS < LEAST_S ? [] : [{ material, thicknessMm, ...one }],
  );
}

type Found = Omit<Shortening, "material" | "thicknessMm">;

/** Not worth a line. */
const LEAST_S = 1;

/** Edges in common cut once instead of twice, whichever of these the job says. */
function commonCuts({ times }: TimedGroup, work: readonly SheetWork[]): Found | null {
  const lessMm = sum(work.map((sheet) => cutLength(sheet, "twice") - cutLength(sheet, "once")));
  if (lessMm < LEAST_MM) return null;
  const done = work.every((sheet) => sheet.commonCuts === "once");
  const other = runningOf(work.map((sheet) => ({ ...sheet, commonCuts: done ? "twice" : "once" })));
  const savesS = (done ? 1 : -1) * (other - sum(times.map(({ runningS }) => runningS)));
  return { kind: "common cuts", done, savesS, lessMm, instead: null };
}

/** Dust of arithmetic is less. */
const LEAST_MM = 0.1;

function cutLength({ lines }: SheetWork, commonCuts: CommonCuts): number {
  return sum(cutStops(lines, commonCuts).flatMap(({ paths }) => paths.map(pathLength)));
}

/** Of the sheets that were tried those that the machine is soonest done with. */
function otherSheets({ nested, nest }: TimedGroup, read: ReadJob): Found | null {
  const { mix, bySize } = nested.outcome;
  const timed = (mix === null ? bySize : [mix, ...bySize]).flatMap((tried) => {
    const machineS = machineSeconds(nested, tried, read);
    return machineS === null ? [] : [{ tried, machineS }];
  });
  const own = timed.find(({ tried }) => tried === nest);
  const [soonest] = timed.toSorted((a, b) => a.machineS - b.machineS);
  if (own === undefined || soonest === undefined) return null;
  const costsMore = soonest.tried.sheetCost.minus(nest.sheetCost).toString();
  return {
    kind: "sheets",
    done: false,
    savesS: own.machineS - soonest.machineS,
    lessMm: 0,
    instead: { used: sheetsUsed(soonest.tried), costsMore },
  };
}

/** Lines on top of others, which are left out. */
function drawnTwice({ nested, nest }: TimedGroup, work: readonly SheetWork[]): Found | null {
  const geometry = cutGeometry(nested.group);
  const lessMm = sum(
    work.flatMap(({ lines }) => lines.map(({ part }) => twiceMm(geometry.get(part)))),
  );
  if (lessMm === 0) return null;
  // Common cuts would leave them out as well.
  const once = work.map((sheet): SheetWork => ({ ...sheet, commonCuts: "twice" }));
  const twice = once.map((sheet, index) => {
    const laid = nest.sheets[index];
    return laid === undefined ? sheet : workedTwice(sheet, laid, geometry);
  });
  const savesS = runningOf(twice) - runningOf(once);
  return { kind: "drawn twice", done: true, savesS, lessMm, instead: null };
}

function twiceMm(part: { readonly drawnTwice: readonly DrawnTwice[] } | undefined): number {
  return sum((part?.drawnTwice ?? []).map(({ path }) => pathLength(path)));
}

/** Against copy by copy, each contour begun where it is drawn. */
function order({ times }: TimedGroup, work: readonly SheetWork[]): Found {
  const drawn = work.map((sheet) => ({ sheet, stops: stopsAsDrawn(sheet) }));
  const travelS = sum(drawn.map(({ sheet, stops }) => travelTime(stops, sheet)));
  const travelMm = sum(drawn.map(({ sheet, stops }) => travelLength(stops, sheet)));
  return {
    kind: "order",
    done: true,
    savesS: travelS - sum(times.map((time) => time.travelS)),
    lessMm: travelMm - sum(times.map((time) => time.travelMm)),
    instead: null,
  };
}

function runningOf(work: readonly SheetWork[]): number {
  return sum(work.map(runningTime));
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
