import { mayHold } from "../job/doubts.ts";
import type { Doubts } from "../job/doubts.ts";
import type { MachineRow, Tables } from "../job/types.ts";
import { chooseFeeds } from "../machine/feeds.ts";
import { timeSheet } from "../machine/sheet-time.ts";
import type { SheetTime } from "../machine/types.ts";
import { operationsOf, sheetWork } from "../machine/work.ts";
import type { Nest } from "../nesting/types.ts";
import { checked } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import type { NestedGroup } from "./nest.ts";
import type { StockGroup } from "./stock-groups.ts";

/**
 * Feeds are looked up before the nesting, so that a missing one is known at once; not for a material
 * that no sheet is sold of, which is what needs mending then.
 */
export function missingFeeds(
  groups: readonly StockGroup[],
  tables: Tables,
  machine: MachineRow,
  doubts: Doubts,
): readonly Problem[] {
  return groups
    .filter(({ sold, material, thicknessMm }) => {
      const feed = { machine: machine.id, material, "thickness mm": thicknessMm };
      return sold.length > 0 && !mayHold(doubts, "feeds.csv", feed);
    })
    .flatMap((group) => feedsOf(group, tables, machine).problems);
}

/** Times every sheet of a nest that has been judged. */
export function timeNest(
  { group }: NestedGroup,
  nest: Nest,
  tables: Tables,
  machine: MachineRow,
): Checked<readonly SheetTime[]> {
  const feeds = feedsOf(group, tables, machine);
  if (!feeds.value) return { value: null, problems: feeds.problems };
  const geometry = new Map(group.parts.map((measured) => [measured.part.name, measured.cut]));
  const rows = feeds.value;
  const times = nest.sheets.map((sheet) => timeSheet(sheetWork(sheet, geometry, rows, machine)));
  return checked(times, feeds.problems);
}

function feedsOf(
  { material, thicknessMm, parts }: StockGroup,
  tables: Tables,
  machine: MachineRow,
): ReturnType<typeof chooseFeeds> {
  const operations = operationsOf(parts.map(({ cut }) => cut));
  return chooseFeeds(tables, machine.id, material, thicknessMm, operations);
}
