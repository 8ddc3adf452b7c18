import { sizeText, stockName } from "../units.ts";
import type { EstimateInput } from "../estimate-data.ts";
import { mayHold } from "../job/doubts.ts";
import type { Doubts } from "../job/doubts.ts";
import type { Need } from "../job/references.ts";
import type { MachineRow, Tables } from "../job/types.ts";
import { lengthPriceProblems } from "../pricing/machine-lengths.ts";
import { priceProblems } from "../pricing/price.ts";
import { checked, errorAt, inColumn, unsaid, warningAt } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import { barProblems } from "./bars.ts";
import { tooLargeParts } from "./fits.ts";
import { neverInCommon } from "./idle-rules.ts";
import type { StockRow } from "./offcuts.ts";
import type { Panels } from "./panels.ts";
import { readInput } from "./read.ts";
import type { ReadJob, Reading } from "./read.ts";
import { slotProblems } from "./slots.ts";
import { stockGroups } from "./stock-groups.ts";
import type { StockGroup } from "./stock-groups.ts";
import { feedsOf, missingFeeds } from "./time.ts";

/** Everything that can go wrong before the long work begins, found before it begins. */

export interface ReadyToNest {
  readonly read: ReadJob;
  readonly groups: readonly StockGroup[];
}

export interface ReadyToRun extends ReadyToNest {
  readonly machine: MachineRow;
}

/** Nesting needs no machine; where one is named its bed bounds the sheets. */
export function readyToNest(input: EstimateInput, need: Need): Checked<ReadyToNest> {
  const { read, groups, problems } = lookOver(input, need);
  return checked({ read, groups }, problems);
}

/**
 * Time and price need a machine, a feed for every operation, a sheet large enough for every part
 * and, for a price, every rate and what the lists call for.
 */
export function readyToRun(input: EstimateInput, need: "time" | "quote"): Checked<ReadyToRun> {
  const { read, groups, doubts, ...found } = lookOver(input, need);
  const { machine, job, tables } = read;
  const pricing =
    need === "quote" ? [...priceProblems(read, doubts), ...barProblems(job, tables, doubts)] : [];
  const problems = [
    ...found.problems,
    ...(machine === null ? [] : missingFeeds(groups, tables, machine, doubts)),
    ...unsaid(pricing, found.problems),
    ...(machine === null || need === "time" ? [] : unpricedLengths(groups, tables, machine)),
    ...tooLargeParts(groups, job.pieces, doubts),
    ...slotProblems(read, doubts),
    ...neverInCommon(groups, read),
  ];
  return machine === null
    ? { value: null, problems }
    : checked({ read, groups, machine }, problems);
}

function unpricedLengths(
  groups: readonly StockGroup[],
  tables: Tables,
  machine: MachineRow,
): readonly Problem[] {
  return lengthPriceProblems(
    groups.flatMap((group) => feedsOf(group, tables, machine).value ?? []),
    machine,
  );
}

interface LookedOver extends Reading {
  readonly groups: readonly StockGroup[];
}

function lookOver(input: EstimateInput, need: Need): LookedOver {
  const { read, doubts, ...found } = readInput(input, need);
  const groups = stockGroups(read, read.machine);
  const problems = [
    ...found.problems,
    ...sheetProblems(groups, read, doubts),
    ...flippedFaces(read),
  ];
  return { read, doubts, groups, problems };
}

/** A stock that is sold only in sheets that the machine's bed can not take. */
function sheetProblems(
  groups: readonly StockGroup[],
  { machine, tables }: ReadJob,
  doubts: Doubts,
): readonly Problem[] {
  return groups.flatMap((group) => {
    const [first] = group.parts;
    const { rows, sold, material, thicknessMm } = group;
    if (sold.length === 0 || !first || !machine) return [];
    const sawn = rows.flatMap((row) =>
      row.panels === undefined ? [] : [{ row, panels: row.panels }],
    );
    if (rows.length > 0 && sawn.length === 0) return [];
    if (mayHold(doubts, "sheets.csv", { material, "thickness mm": thicknessMm })) return [];
    const sizes = tables.sheets
      .filter(({ id }) => sold.includes(id))
      .map(({ widthMm, heightMm }) => sizeText(widthMm, heightMm));
    const place = inColumn(first.part.place, "material");
    const found = `${stockName(group)}, sold as ${sizes.join(", ")}`;
    const expected = `a sheet of at most ${machine.bedWidthMm} x ${machine.bedHeightMm} mm, the bed of ${machine.id}`;
    if (rows.length > 0)
      return warningAt(place, {
        code: "sheet-sawn",
        found,
        expected: `${expected}; sheets are taken as sawn up for it first, at no cost: ${sawn.map(panelText).join(", ")}`,
        mend: "Have the shop saw them, and add its price to that of the sheet or as hand work",
      });
    return errorAt(place, {
      code: "no-sheet-for-bed",
      found,
      expected,
      mend: "Add the size it can be cut down to in sheets.csv, or choose a machine with a larger bed",
    });
  });
}

/** `mdf-2440x1220 into 4 x 3 of 607 x 404 mm`. */
function panelText({ row, panels }: { readonly row: StockRow; readonly panels: Panels }): string {
  const { across, along, widthMm, heightMm } = panels;
  return `${row.id} into ${across} x ${along} of ${sizeText(widthMm, heightMm)}`;
}

/** Face down, a score or an engraving comes mirrored on the other face. */
function flippedFaces({ parts }: ReadJob): readonly Problem[] {
  return parts.flatMap(({ part, geometry }) => {
    const marked = geometry.scores.length + geometry.engravings.length > 0;
    if (!part.flip || !marked) return [];
    return warningAt(inColumn(part.place, "flip"), {
      code: "marks-flipped",
      found: "yes",
      expected: "no for a part with scored or engraved lines, which would come on its other face",
      mend: "Write no, unless either face will do",
    });
  });
}
