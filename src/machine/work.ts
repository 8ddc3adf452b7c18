import type { PartGeometry } from "../drawing/types.ts";
import { posePath } from "../geometry/pose.ts";
import type { Path } from "../geometry/types.ts";
import type { CommonCuts, FeedRow, MachineRow, Operation } from "../job/types.ts";
import type { NestedSheet, Placement } from "../nesting/types.ts";
import type { PlacedLines, SheetWork } from "./types.ts";

/** What a machine has to do on one nested sheet: the lines of every copy as they lie there. */

/** Engraved and scored before anything comes loose. */
export const OPERATIONS_IN_ORDER: readonly Operation[] = ["engrave", "score", "cut"];

/**
 * @param geometry by part name.
 * @param feeds those of the sheet's material; the ones for operations that do not occur are left out.
 * @throws RangeError when a placed part has no geometry.
 */
export function sheetWork(
  sheet: NestedSheet,
  geometry: ReadonlyMap<string, PartGeometry>,
  feeds: readonly FeedRow[],
  machine: MachineRow,
  commonCuts: CommonCuts,
): SheetWork {
  const lines = placedLines(sheet, geometry);
  const used = operationsOf(lines);
  return {
    sheet: sheet.sheet,
    lines,
    feeds: feeds.filter(({ operation }) => used.includes(operation)),
    machine,
    commonCuts,
  };
}

/**
 * The lines of each copy in sheet coordinates, in the order of the placements.
 * @throws RangeError as {@link sheetWork}.
 */
export function placedLines(
  sheet: NestedSheet,
  geometry: ReadonlyMap<string, PartGeometry>,
): PlacedLines[] {
  return sheet.placements.map((placement) => {
    const drawn = geometry.get(placement.part);
    if (drawn === undefined) throw new RangeError(`no geometry for part ${placement.part}`);
    return linesAt(placement, drawn);
  });
}

/** The same work if the lines that are drawn twice were worked twice. */
export function workedTwice(
  work: SheetWork,
  sheet: NestedSheet,
  geometry: ReadonlyMap<string, PartGeometry>,
): SheetWork {
  const lines = work.lines.map((placed, index) => {
    const placement = sheet.placements[index];
    const twice = geometry.get(placed.part)?.drawnTwice ?? [];
    if (placement === undefined || twice.length === 0) return placed;
    const again = (wanted: Operation): Path[] =>
      twice.flatMap(({ operation, path }) =>
        operation === wanted ? [posePath(placement, path)] : [],
      );
    return { ...placed, scores: [...placed.scores, ...again("score")], cutAgain: again("cut") };
  });
  return { ...work, lines };
}

/** The operations that occur, in the order in which they are done. */
export function operationsOf(lines: readonly OperationLines[]): Operation[] {
  const occurs: Readonly<Record<Operation, boolean>> = {
    engrave: lines.some(({ engravings }) => engravings.length > 0),
    score: lines.some(({ scores }) => scores.length > 0),
    cut: lines.length > 0,
  };
  return OPERATIONS_IN_ORDER.filter((operation) => occurs[operation]);
}

/** The part of a drawing, placed or not, that says which operations it calls for. */
type OperationLines = Pick<PartGeometry, "engravings" | "scores">;

function linesAt(placement: Placement, drawn: PartGeometry): PlacedLines {
  const pose = (path: Path): Path => posePath(placement, path);
  return {
    part: placement.part,
    copy: placement.copy,
    outline: pose(drawn.outline),
    holes: drawn.holes.map(pose),
    scores: drawn.scores.map(pose),
    engravings: drawn.engravings.map(pose),
  };
}
