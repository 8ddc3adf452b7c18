import type { FitReport, FitSheet, FitSlot } from "../estimate-data.ts";
import { lapFaults } from "../fit/half-laps.ts";
import type { HalfLapPlate, LapFault } from "../fit/half-laps.ts";
import { slotFits } from "../fit/slot-check.ts";
import type { SlotFit, SlottedPart, SlottingSheet } from "../fit/slot-check.ts";
import { thicknessOf } from "../fit/thickness.ts";
import { mayHold } from "../job/doubts.ts";
import type { Doubts } from "../job/doubts.ts";
import type { MeasuredSheet } from "../job/types.ts";
import { counted, sameText } from "../names.ts";
import { errorAt, inColumn, warningAt } from "../problem.ts";
import type { Fault, Problem } from "../problem.ts";
import { lengthText, sameThickness, stockName, trimmed } from "../units.ts";
import { kerfOf } from "./cut-lines.ts";
import type { CutPart } from "./cut-lines.ts";
import type { ReadJob } from "./read.ts";

/** The slots of the job's parts against the sheets of the job. */

export function fitReport(read: ReadJob): FitReport {
  const { job, machine } = read;
  return {
    version: 1,
    machine: machine === null ? null : { id: machine.id, description: machine.description },
    cutLines: job.cutLines,
    sheets: stocksOf(read).map((stock) => fitSheet(stock, read)),
    slots: fitsOf(read).map(fitSlot),
  };
}

/** Slots that a sheet would not sit in snugly, half laps that do not go home, and measured sheets that no part is cut from. */
export function slotProblems(read: ReadJob, doubts: Doubts): readonly Problem[] {
  const { measured } = read.job;
  const stocks = stocksOf(read);
  const idle = measured.filter((sheet) => !stocks.some((stock) => isMeasured(sheet, stock)));
  return [
    ...fitsOf(read).flatMap((fit) => wrongSlot(fit, read)),
    ...unknownKerfs(read, doubts),
    ...lapProblems(read),
    ...measured.flatMap((sheet) => strangeMeasure(sheet, read)),
    ...(doubts.parts ? [] : idle.map(measuredNothing)),
  ];
}

/** How many slots of one copy of each part a sheet of the job stands in, by the part's name. */
export function slotCounts(read: Slotted): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const { part, at } of fitsOf(read)) counts.set(part, (counts.get(part) ?? 0) + at.length);
  return counts;
}

type Slotted = Pick<ReadJob, "job" | "tables" | "machine"> & { readonly parts: readonly CutPart[] };

interface Stock {
  readonly material: string;
  readonly thicknessMm: number;
}

function stocksOf({ parts }: Slotted): readonly Stock[] {
  const stocks = new Map<string, Stock>();
  for (const { part } of parts) stocks.set(stockName(part), part);
  return [...stocks.values()];
}

function fitSheet(stock: Stock, read: ReadJob): FitSheet {
  const { material, thicknessMm } = stock;
  const sheet = slottingSheet(stock, read);
  return {
    material,
    thicknessMm,
    measuredMm: measuredOf(stock, read),
    betweenMm: sheet === null ? null : [sheet.thickness.lowMm, sheet.thickness.highMm],
    snugMm: sheet === null ? null : [sheet.clearance.lowMm, sheet.clearance.highMm],
    kerfMm: kerfOf(stock, read.tables, read.machine)?.mm ?? null,
  };
}

/** Null where fits.csv does not know the material. */
function slottingSheet(stock: Stock, read: Slotted): SlottingSheet | null {
  const { material, thicknessMm } = stock;
  const row = read.tables.fits.find((fit) => fit.material === material);
  if (row === undefined) return null;
  const thickness = thicknessOf(thicknessMm, measuredOf(stock, read), row);
  const clearance = { lowMm: row.clearanceLowMm, highMm: row.clearanceHighMm };
  return { material, thicknessMm, thickness, clearance };
}

function measuredOf(stock: Stock, { job }: Slotted): number | null {
  return job.measured.find((sheet) => isMeasured(sheet, stock))?.measuredMm ?? null;
}

function isMeasured(sheet: MeasuredSheet, { material, thicknessMm }: Stock): boolean {
  return sameText(sheet.material, material) && sameThickness(sheet.thicknessMm, thicknessMm);
}

function fitsOf(read: Slotted): readonly SlotFit[] {
  const sheets = stocksOf(read).flatMap((stock) => slottingSheet(stock, read) ?? []);
  const parts = read.parts.flatMap(({ part, geometry, kerfsMm }): SlottedPart[] => {
    const own = slottingSheet(part, read);
    return own === null ? [] : [{ part: part.name, geometry, clearance: own.clearance, kerfsMm }];
  });
  return slotFits(parts, sheets);
}

function fitSlot({
  part,
  sheet,
  widthMm,
  at,
  kerfMm,
  clearanceMm,
  fit,
  range,
  drawMm,
}: SlotFit): FitSlot {
  const { material, thicknessMm } = sheet;
  const found = { part, material, thicknessMm, count: at.length, at, drawnMm: widthMm };
  return { ...found, kerfMm, clearanceMm, fit, between: range, drawMm };
}

function wrongSlot(slot: SlotFit, { job, parts }: ReadJob): readonly Problem[] {
  const { fit, at, widthMm, sheet, kerfMm, drawMm } = slot;
  const cut = parts.find(({ part }) => part.name === slot.part);
  if (fit === null || fit === "snug" || drawMm === null || cut === undefined) return [];
  const isGiven = cut.part.form.kind === "half-lap";
  const place = isGiven ? inColumn(cut.part.place, "slot width") : cut.geometry.place;
  const width = trimmed(drawMm, 2);
  const [first] = at;
  const where =
    first === undefined
      ? ""
      : `, ${at.length === 1 ? "" : "the first "}at ${trimmed(first.x, 1)}, ${trimmed(first.y, 1)} mm`;
  const beam =
    job.cutLines === "as drawn" || kerfMm !== 0
      ? `at a kerf of ${trimmed(kerfMm ?? 0, 3)} mm`
      : "with the cut lines moved";
  const measured = sheet.thickness.measured
    ? ` measured ${lengthText(sheet.thickness.likelyMm)}`
    : "";
  return [
    warningAt(place, {
      code: "slot-not-snug",
      found: `${counted(at.length, "slot")} drawn ${trimmed(widthMm, 3)} mm wide${where}: ${fit} for ${stockName(sheet)}${measured} ${beam}`,
      expected: `${width} mm for a snug fit`,
      mend: `${isGiven ? `Write ${width} under slot width, and try it` : "Draw the slots so wide and try them"} on a comb first (the command fit draws one), unless no sheet is to stand in ${isGiven ? "it" : "them"}`,
    }),
  ];
}

/** Of a machine without the kerf nothing can be said, and that silence would pass for a good fit. */
function unknownKerfs(read: ReadJob, doubts: Doubts): readonly Problem[] {
  const { machine, parts } = read;
  if (machine === null) return [];
  const blind = fitsOf(read).filter(({ kerfMm }) => kerfMm === null);
  return stocksOf(read).flatMap((stock) => {
    const ofStock = parts.filter(({ part }) => stockName(part) === stockName(stock));
    const slots = blind.filter((slot) => ofStock.some(({ part }) => part.name === slot.part));
    const first = ofStock.find(({ part }) => part.name === slots[0]?.part);
    // Of any thickness: between two rows a kerf is worked out from both.
    const row = { machine: machine.id, material: stock.material };
    if (first === undefined || mayHold(doubts, "kerfs.csv", row)) return [];
    const count = slots.reduce((sum, { at }) => sum + at.length, 0);
    const names = [...new Set(slots.map(({ part }) => part))].join(", ");
    return [
      warningAt(inColumn(first.part.place, "thickness"), {
        code: "slots-not-checked",
        found: `${counted(count, "slot")} in ${stockName(stock)} (${names})`,
        expected: `a kerf of ${machine.id} in kerfs.csv for it, or for a thinner and a thicker sheet: without it nobody can say whether a sheet sits in them`,
        mend: "Cut a comb (the command fit draws one), measure its kerf, and add a row to kerfs.csv",
      }),
    ];
  });
}

/** Of plates that are given by their sizes; how deep a drawn notch should be is not known. */
function lapProblems({ job, parts }: ReadJob): readonly Problem[] {
  const plates = parts.flatMap(({ part }) => {
    const { form, name, thicknessMm, quantity, place } = part;
    if (form.kind !== "half-lap") return [];
    return [{ ...form, part: name, thicknessMm, copies: quantity * job.pieces, place }];
  });
  return lapFaults(plates).map((fault) =>
    warningAt(inColumn(fault.plates[0].place, "slot depth"), lapFault(fault)),
  );
}

function lapFault({ plates: [one, other], outMm }: LapFault<HalfLapPlate>): Fault {
  const depths = [one, other].map(({ slotDepthMm }) => trimmed(slotDepthMm, 2)).join(" and ");
  const names = one === other ? `two of "${one.part}"` : `"${one.part}" and "${other.part}"`;
  const heights = [...new Set([one, other].map(({ heightMm }) => lengthText(heightMm)))];
  const so =
    outMm > 0
      ? `one plate stands out of the other by ${trimmed(outMm, 2)} mm`
      : `${trimmed(-outMm, 2)} mm of the slots stays open`;
  return {
    code: "half-laps-apart",
    found: `slots ${depths} mm deep in ${names}: ${so}`,
    expected: `depths that add up to ${heights.join(" or ")}, the height of ${heights.length === 1 ? "the plates" : "one of the plates"}`,
    mend: "Correct slot depth in one of the rows, or leave it empty in both for half the height, unless these two are not crossed",
  };
}

/** What no sheet of that name can be is a slip of a digit, and would hide every slot that is wrong. */
function strangeMeasure(sheet: MeasuredSheet, { tables }: ReadJob): readonly Problem[] {
  const { material, thicknessMm, measuredMm, place } = sheet;
  const row = tables.fits.find((fit) => sameText(fit.material, material));
  const reach = STRANGE_SHARE * thicknessMm;
  const named = row === undefined ? null : thicknessOf(thicknessMm, null, row);
  const low = Math.min(named?.lowMm ?? Infinity, thicknessMm - reach);
  const high = Math.max(named?.highMm ?? 0, thicknessMm + reach);
  if (measuredMm >= low && measuredMm <= high) return [];
  return [
    errorAt(place, {
      code: "measured-strange",
      found: lengthText(measuredMm),
      expected: `a measure of ${stockName(sheet)}, ${trimmed(low, 2)} to ${trimmed(high, 2)} mm`,
      mend: "Correct the number or its unit, or the thickness that it is a measure of",
    }),
  ];
}

/** Of the thickness; no standard allows more (ISO 7823-1 allows 23 % at 3 mm). */
const STRANGE_SHARE = 0.25;

function measuredNothing({ material, thicknessMm, place }: MeasuredSheet): Problem {
  return warningAt(place, {
    code: "measured-not-used",
    found: stockName({ material, thicknessMm }),
    expected: "a material and thickness of the parts list",
    mend: "Write both as the parts list has them, or delete the entry",
  });
}
