import type { PartGeometry } from "../drawing/types.ts";
import { mayHold } from "../job/doubts.ts";
import type { Doubts } from "../job/doubts.ts";
import type { CommonCuts, MachineRow, Tables } from "../job/types.ts";
import { chooseFeeds } from "../machine/feeds.ts";
import { timeSheet } from "../machine/sheet-time.ts";
import type { Feed, SheetTime, SheetWork } from "../machine/types.ts";
import { operationsOf, sheetWork } from "../machine/work.ts";
import type { Nest } from "../nesting/types.ts";
import { isError } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import type { NestedGroup } from "./sheets-tried.ts";
import type { ReadJob } from "./read.ts";
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
    .filter(({ sold, material }) => {
      // Of any thickness: between two rows a feed is worked out from both.
      const feed = { machine: machine.id, material };
      return sold.length > 0 && !mayHold(doubts, "feeds.csv", feed);
    })
    .flatMap((group) => feedsOf(group, tables, machine).problems);
}

/** What there is to be said of the feeds where a missing one does not stop the answer. */
export function feedWarnings(
  { tables, machine }: Pick<ReadJob, "tables" | "machine">,
  nested: readonly NestedGroup[],
): readonly Problem[] {
  if (machine === null) return [];
  return nested.flatMap(({ group }) =>
    feedsOf(group, tables, machine).problems.filter((problem) => !isError(problem)),
  );
}

/** Times every sheet of a nest that has been judged. @param feeds of its material, as {@link feedsOf}. */
export function timeNest(
  { group }: NestedGroup,
  nest: Nest,
  feeds: readonly Feed[],
  machine: MachineRow,
  commonCuts: CommonCuts,
): readonly SheetTime[] {
  return nestWork(group, nest, feeds, machine, commonCuts).map(timeSheet);
}

/** What the beam follows, by part name. */
export function cutGeometry({ parts }: StockGroup): ReadonlyMap<string, PartGeometry> {
  return new Map(parts.map(({ part, cut }) => [part.name, cut]));
}

/** What the machine does on each sheet of a nest. */
export function nestWork(
  group: StockGroup,
  nest: Nest,
  feeds: readonly Feed[],
  machine: MachineRow,
  commonCuts: CommonCuts,
): readonly SheetWork[] {
  const geometry = cutGeometry(group);
  return nest.sheets.map((sheet) => sheetWork(sheet, geometry, feeds, machine, commonCuts));
}

/** The feed of every operation that the parts of a group call for. */
export function feedsOf(
  { material, thicknessMm, parts }: StockGroup,
  tables: Tables,
  machine: MachineRow,
): Checked<readonly Feed[]> {
  const operations = operationsOf(parts.map(({ cut }) => cut));
  return chooseFeeds(tables, machine.id, material, thicknessMm, operations);
}
