import type { MachineRow, SheetRow } from "../job/types.ts";
import { sizesMeant } from "../job/chosen-sheets.ts";
import { mayFit } from "../nesting/cost-bound.ts";
import type { NestPiece, SheetChoice } from "../nesting/types.ts";
import { spareCopies } from "../pricing/spares.ts";
import { offcutRow } from "./offcuts.ts";
import type { StockRow } from "./offcuts.ts";
import { panelsOf } from "./panels.ts";
import type { ReadJob } from "./read.ts";

/** One material and thickness with its parts and the sizes that the machine can take. */
export interface StockGroup {
  readonly material: string;
  readonly thicknessMm: number;
  readonly parts: ReadJob["parts"];
  /** Of the table, then the offcuts on the shelf. */
  readonly rows: readonly StockRow[];
  /** That the sheets lie on; null where no machine is named. */
  readonly machine: MachineRow | null;
  /** Ids of all its sizes that the job lets be taken, also those too large for the bed and for its panels. */
  readonly sold: readonly string[];
}

/** Parts by material and thickness, in the order of the parts list. */
export function stockGroups(
  { job, parts, tables, offcuts: shelf }: ReadJob,
  machine: MachineRow | null,
): readonly StockGroup[] {
  const groups: { material: string; thicknessMm: number; parts: ReadJob["parts"][number][] }[] = [];
  for (const measured of parts) {
    const { material, thicknessMm } = measured.part;
    const known = groups.find((group) => isStock(group, { material, thicknessMm }));
    if (known) known.parts.push(measured);
    else groups.push({ material, thicknessMm, parts: [measured] });
  }
  return groups.map((group) => {
    const table = sizesMeant(
      tables.sheets.filter((row) => isStock(group, row)),
      job.sheets,
    );
    const offcuts = shelf.filter(({ offcut }) => isStock(group, offcut) && offcut.quantity > 0);
    const rows = [...table, ...offcuts.map((one) => offcutRow(one, table))];
    const sold = table.map(({ id }) => id);
    return { ...group, rows: rowsFor(rows, group.parts, machine), machine, sold };
  });
}

/** What the bed takes; where it takes no size that is sold, their panels. */
function rowsFor(
  rows: readonly StockRow[],
  parts: StockGroup["parts"],
  machine: MachineRow | null,
): readonly StockRow[] {
  if (machine === null) return rows;
  const fitting = rows.filter((row) => fitsBed(row, machine));
  if (fitting.some(({ offcut }) => offcut !== true)) return fitting;
  const bed = { widthMm: machine.bedWidthMm, heightMm: machine.bedHeightMm };
  const pieces = nestPiecesOf(parts, 1);
  const sawn = rows.flatMap((row): readonly StockRow[] => {
    const { form, widthMm, heightMm, offcut } = row;
    if (form === "roll" || heightMm === null || offcut === true) return [];
    const panels = panelsOf({ widthMm, heightMm }, bed, (panel) => {
      const choice = sheetChoice({ ...row, panels: panel }, machine);
      return pieces.filter((piece) => mayFit(piece, choice)).length;
    });
    return panels === null ? [] : [{ ...row, panels }];
  });
  return [...sawn, ...fitting];
}

/** Names and thicknesses have been spelled as the tables have them. */
function isStock(
  a: Pick<SheetRow, "material" | "thicknessMm">,
  b: Pick<SheetRow, "material" | "thicknessMm">,
): boolean {
  return a.material === b.material && a.thicknessMm === b.thicknessMm;
}

/** A sheet may lie either way round on the bed; of a roll only its width must fit, for it is cut to length. */
function fitsBed(
  { widthMm, heightMm }: SheetRow,
  { bedWidthMm, bedHeightMm }: MachineRow,
): boolean {
  const across = heightMm ?? 0;
  return (
    (widthMm <= bedWidthMm && across <= bedHeightMm) ||
    (widthMm <= bedHeightMm && across <= bedWidthMm)
  );
}

/** What is nested of a group, for so many pieces commissioned. */
export function piecesOf({ parts }: StockGroup, pieces: number): readonly NestPiece[] {
  return nestPiecesOf(parts, pieces);
}

function nestPiecesOf(parts: StockGroup["parts"], pieces: number): readonly NestPiece[] {
  return parts.map(({ part, cut, spare }) => ({
    part: part.name,
    copies: part.quantity * pieces + spareCopies(part.quantity * pieces, spare),
    region: cut.region,
    flatteningMm: cut.flatteningMm,
    turn: part.turn,
    flip: part.flip,
  }));
}

/** The sizes it may be nested on. */
export function choicesOf({ rows, machine }: StockGroup): readonly SheetChoice[] {
  return rows.map((row) => sheetChoice(row, machine));
}

function sheetChoice(row: StockRow, machine: MachineRow | null): SheetChoice {
  const { id, form, price, marginMm, gapMm, onHand, offcut = false, outline, panels } = row;
  const { widthMm, heightMm } = panels ?? row;
  const longestMm = form === "roll" && machine !== null ? longestOnBed(row, machine) : null;
  const plain = { id, form, widthMm, heightMm, longestMm, price, marginMm, gapMm, onHand, offcut };
  return {
    ...plain,
    ...(outline === undefined ? {} : { outline }),
    ...(panels === undefined ? {} : { panels: panels.across * panels.along }),
  };
}

/** The bed's reach along a roll, which may lie either way round. */
function longestOnBed({ widthMm }: SheetRow, { bedWidthMm, bedHeightMm }: MachineRow): number {
  return Math.max(widthMm <= bedWidthMm ? bedHeightMm : 0, widthMm <= bedHeightMm ? bedWidthMm : 0);
}
