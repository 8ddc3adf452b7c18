import { MALLET_MM } from "../fit/fit.ts";
import type { FitReport, FitSheet, FitSlot } from "../estimate-data.ts";
import { lengthText, stockName, trimmed } from "../units.ts";
import { columns, wrapped } from "./wrap.ts";

const WIDTH = 80;

/** The slots and the sheets for them, in words. */
export function fitText(report: FitReport): string {
  const { slots, sheets, machine } = report;
  const by = machine === null ? "" : `, cut by ${machine.id}`;
  return [
    `Slots against the sheets of the job, in mm${by}`,
    "",
    ...(slots.length === 0
      ? ["  No slot or notch is near the thickness of a sheet of the job."]
      : slotRows(report)),
    "",
    "Sheets",
    ...columns(sheets.map(sheetRow), []),
    "",
    ...wrapped(cutText(report), WIDTH),
    ...wrapped(advice(report), WIDTH),
    "",
  ].join("\n");
}

function slotRows({ slots, cutLines }: FitReport): readonly string[] {
  const head = ["  part", "slots", "drawn", "sheet", "kerf", "clearance", "fit", "draw"];
  const rows = slots.map((slot) => [
    `  ${slot.part}`,
    String(slot.count),
    trimmed(slot.drawnMm, 3),
    stockName(slot),
    kerfWords(slot, cutLines),
    slot.clearanceMm === null ? "" : signed(slot.clearanceMm),
    fitWords(slot),
    slot.drawMm === null ? "" : trimmed(slot.drawMm, 2),
  ]);
  return columns([head, ...rows], [1, 2, 4, 5, 7]);
}

function kerfWords({ kerfMm }: FitSlot, cutLines: FitReport["cutLines"]): string {
  if (cutLines !== "as drawn" && kerfMm === 0) return "moved";
  return kerfMm === null ? "not known" : trimmed(kerfMm, 3);
}

/** `snug`; `snug (loose to no go)` where only the name of the sheet is known. */
function fitWords({ fit, between }: FitSlot): string {
  if (fit === null || between === null) return "";
  const [thinnest, thickest] = between;
  return thinnest === thickest ? fit : `${fit} (${thinnest} to ${thickest})`;
}

function sheetRow(sheet: FitSheet): readonly string[] {
  return [`  ${stockName(sheet)}`, thicknessText(sheet), snugText(sheet)];
}

function thicknessText({ measuredMm, betweenMm }: FitSheet): string {
  if (measuredMm !== null) return `measured ${lengthText(measuredMm)}`;
  if (betweenMm === null) return "not measured";
  const [low, high] = betweenMm;
  return `by its name ${trimmed(low, 2)} to ${lengthText(Number(trimmed(high, 2)))}`;
}

function snugText({ snugMm }: FitSheet): string {
  if (snugMm === null) return "no row in fits.csv";
  const [low, high] = snugMm;
  return `snug at ${signed(low)} to ${signed(high)}`;
}

function cutText({ cutLines, sheets }: FitReport): string {
  const comesOut =
    cutLines === "as drawn"
      ? "A slot comes out wider than drawn by the kerf. Clearance is the slot as cut less the sheet: below 0 the sheet is pressed in."
      : "The cut lines are moved by half the kerf, so a slot comes out as drawn. Clearance is the slot less the sheet: below 0 the sheet is pressed in.";
  const limits = `Above snug it is loose, up to ${lengthText(MALLET_MM)} below tight (it wants a mallet), further below no go.`;
  const materials = new Set(sheets.map(({ material }) => material));
  const meeting = "Where two materials meet, the one that wants more room counts.";
  return [comesOut, limits, ...(materials.size > 1 ? [meeting] : [])].join(" ");
}

function advice({ sheets, slots }: FitReport): string {
  const unmeasured = sheets.some(
    ({ measuredMm, betweenMm }) => measuredMm === null && betweenMm !== null,
  );
  const unknown = slots.some(({ kerfMm }) => kerfMm === null);
  return [
    unmeasured
      ? "Measure the sheets before cutting and write what you find under measured: in job.yaml."
      : "",
    unknown ? "A kerf that is not known is found by cutting a comb; it goes into kerfs.csv." : "",
    "Paint takes up 0.05 to 0.15 mm for each painted face: mask the slot, or draw it wider.",
  ]
    .filter((text) => text !== "")
    .join(" ");
}

function signed(mm: number): string {
  const text = trimmed(Math.abs(mm), 2);
  return text === "0" ? "0" : `${mm < 0 ? "-" : "+"}${text}`;
}
