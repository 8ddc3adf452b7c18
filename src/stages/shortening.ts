import type { Shortening } from "../estimate-data.ts";
import type { DrawnTwice } from "../drawing/types.ts";
import { pathLength } from "../geometry/path.ts";
import { handlingMinutes } from "../job/handling.ts";
import type { CommonCuts, MachineRow } from "../job/types.ts";
import { chooseFeeds } from "../machine/feeds.ts";
import { stopsAsDrawn } from "../machine/order.ts";
import { leastRunningTime, runningTime, travelLength, travelTime } from "../machine/sheet-time.ts";
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

/** For each material and thickness; of a material's set-ups only the one that saves most. */
export function shortenings(
  all: readonly TimedGroup[],
  read: ReadJob,
  machine: MachineRow,
): readonly Shortening[] {
  const found = all.flatMap((timed) => shorteningOf(timed, all, read, machine));
  return found.filter(
    (one) =>
      one.kind !== "set-ups" ||
      found.every(
        ({ kind, material, savesS }) =>
          kind !== "set-ups" || material !== one.material || savesS <= one.savesS,
      ),
  );
}

/** Those that apply to one material and thickness of all. */
function shorteningOf(
  timed: TimedGroup,
  all: readonly TimedGroup[],
  read: ReadJob,
  machine: MachineRow,
): readonly Shortening[] {
  const { material, thicknessMm } = timed.stock;
  const { nested, nest, feeds } = timed;
  const work = nestWork(nested.group, nest, feeds, machine, read.job.commonCuts);
  const found = [
    commonCuts(timed, work),
    otherSheets(timed, read, machine),
    fewerSetUps(timed, all, work, read, machine),
    drawnTwice(timed, work),
    order(timed, work),
  ];
  return found.flatMap((one) =>
    one === null || one.savesS < LEAST_S
      ? []
      : [{ material, thicknessMm, instead: null, insteadMm: null, ...one }],
  );
}

type Found = Pick<Shortening, "kind" | "done" | "savesS" | "lessMm"> &
  Partial<Pick<Shortening, "instead" | "insteadMm">>;

/** Not worth a line. */
const LEAST_S = 1;

/** Edges in common cut once instead of twice, whichever of these the job says. */
function commonCuts({ times }: TimedGroup, work: readonly SheetWork[]): Found | null {
  const lessMm = sum(work.map((sheet) => cutLength(sheet, "twice") - cutLength(sheet, "once")));
  if (lessMm < LEAST_MM) return null;
  const done = work.every((sheet) => sheet.commonCuts === "once");
  const other = runningOf(work.map((sheet) => ({ ...sheet, commonCuts: done ? "twice" : "once" })));
  const savesS = (done ? 1 : -1) * (other - sum(times.map(({ runningS }) => runningS)));
  return { kind: "common cuts", done, savesS, lessMm };
}

/** Dust of arithmetic is less. */
const LEAST_MM = 0.1;

function cutLength({ lines }: SheetWork, commonCuts: CommonCuts): number {
  return sum(cutStops(lines, commonCuts).flatMap(({ paths }) => paths.map(pathLength)));
}

/** Of the sheets that were tried those that the machine is soonest done with. */
function otherSheets(
  { nested, nest, times }: TimedGroup,
  read: ReadJob,
  machine: MachineRow,
): Found | null {
  const { mix, bySize } = nested.outcome;
  const running = sum(times.map(({ runningS }) => runningS));
  const own = { tried: nest, machineS: running + SECONDS * handlingMinutes(machine, times.length) };
  const others = (mix === null ? bySize : [mix, ...bySize]).flatMap((tried) => {
    const machineS = tried === nest ? null : machineSeconds(nested, tried, read, own.machineS);
    return machineS === null ? [] : [{ tried, machineS }];
  });
  const [soonest = own] = [own, ...others].toSorted((a, b) => a.machineS - b.machineS);
  const costsMore = soonest.tried.sheetCost.minus(nest.sheetCost).toString();
  return {
    kind: "sheets",
    done: false,
    savesS: own.machineS - soonest.machineS,
    lessMm: 0,
    instead: { used: sheetsUsed(soonest.tried), costsMore },
  };
}

/** The same layouts from a thickness of this material that the job is set up for anyway. */
function fewerSetUps(
  { stock, times, feeds }: TimedGroup,
  all: readonly TimedGroup[],
  work: readonly SheetWork[],
  { tables }: ReadJob,
  machine: MachineRow,
): Found | null {
  const others = all.filter((one) => one.stock.material === stock.material);
  const running = sum(times.map(({ runningS }) => runningS));
  const found = others.flatMap(({ stock: { thicknessMm } }): readonly Found[] => {
    if (thicknessMm === stock.thicknessMm) return [];
    const operations = feeds.map(({ operation }) => operation);
    const { value } = chooseFeeds(tables, machine.id, stock.material, thicknessMm, operations);
    if (value === null) return [];
    const setUpS = SECONDS * handlingMinutes(machine, 0);
    const withIts = work.map((sheet) => ({ ...sheet, feeds: value }));
    if (running + setUpS - sum(withIts.map(leastRunningTime)) < LEAST_S) return [];
    const savesS = running + setUpS - runningOf(withIts);
    return [{ kind: "set-ups", done: false, savesS, lessMm: 0, insteadMm: thicknessMm }];
  });
  return found.toSorted((a, b) => b.savesS - a.savesS)[0] ?? null;
}

const SECONDS = 60;

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
  return { kind: "drawn twice", done: true, savesS, lessMm };
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
  };
}

function runningOf(work: readonly SheetWork[]): number {
  return sum(work.map(runningTime));
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
