import { FigureSheet } from "../figure.ts";
import type { Amount } from "../money.ts";
import type { Clamped, HardwareRow, HardwareUse, JointUse } from "../job/types.ts";
import { sameText } from "../names.ts";
import { sameThickness } from "../units.ts";
import { cell, jobCell, slug } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { coarsePitch, PITCH_SOURCE } from "./metric-threads.ts";
import type { MeasuredJob, PricingInput } from "./types.ts";

/**
 * Bolts by what they go through. A bolt has to be as long as the layers, washers and nut and two
 * threads beyond (rule worked from a reference page: two usual, one the least), and is taken from the
 * stocked lengths, rounded up.
 */

type Rows = Pick<MeasuredJob, "job" | "tables">;

/** One bolt, nut or washer of a joint, as the list of hardware would say it. */
export interface JointItem {
  readonly use: HardwareUse;
  /** Where the row says how many; null for one. */
  readonly column: string | null;
  /** Of a bolt: figures of the length that is taken, and of the row's own. */
  readonly taken: { readonly length: string; readonly own: string } | null;
}

/** Stocked bolts of a thread and head, shortest first; of the same length the first in the table. */
export function stockedBolts(
  rows: readonly HardwareRow[],
  { thread, head }: Pick<JointUse, "thread" | "head">,
): readonly Bolt[] {
  const bolts = rows
    .flatMap((row) => (row.lengthMm === null ? [] : [{ row, lengthMm: row.lengthMm }]))
    .filter(({ row }) => row.role === "bolt" && sameText(row.thread, thread))
    .filter(({ row }) => sameText(row.head, head));
  return bolts
    .toSorted((a, b) => a.lengthMm - b.lengthMm)
    .filter(({ lengthMm }, at, sorted) => lengthMm !== sorted[at - 1]?.lengthMm);
}

export interface Bolt {
  readonly row: HardwareRow;
  readonly lengthMm: number;
}

/** What a joint will take, known before there are figures; null while a layer is not known. */
export function boltFor(
  { job, tables }: Rows,
  joint: JointUse,
): { readonly needed: Amount; readonly taken: Bolt | null } | null {
  const known = new Set(job.parts.map(({ name }) => name));
  if (joint.through.some((layer) => layer.kind === "part" && !known.has(layer.part))) return null;
  const sheet = new FigureSheet();
  const needed = sheet.value(addNeeded(sheet, { job, tables }, joint));
  const taken = stockedBolts(tables.hardware, joint).find(({ lengthMm }) => needed.lte(lengthMm));
  return { needed, taken: taken ?? null };
}

/** Ids of all items that the job lists or that its joints take. */
export function itemsUsed(rows: Rows): ReadonlySet<string> {
  const { hardware, joints } = rows.job;
  const joined = joints.flatMap((joint) => {
    const taken = boltFor(rows, joint)?.taken;
    return [joint.nut, joint.washer, taken?.row.id].filter((id) => typeof id === "string");
  });
  return new Set([...hardware.map(({ item }) => item), ...joined]);
}

/** Works out the bolts of every joint. @returns what they add to the hardware. */
export function addJoints(ledger: Ledger, input: PricingInput): readonly JointItem[] {
  return input.job.joints.flatMap((joint) => jointItems(ledger, input, joint));
}

function jointItems(ledger: Ledger, input: PricingInput, joint: JointUse): readonly JointItem[] {
  const { sheet } = ledger;
  const id = (what: string): string => jointId(joint, what);
  const needed = addNeeded(sheet, input, joint);
  const stocked = stockedBolts(input.tables.hardware, joint);
  const lengths = stocked.map(({ row, lengthMm }) =>
    sheet.given(
      id(`stocked-${slug(row.id)}`),
      `${row.description}, length`,
      "mm",
      lengthMm,
      cell(row, "length_mm"),
    ),
  );
  const length = sheet.derived(
    id("length"),
    `${joint.name}, bolt to take`,
    "mm",
    "smallest that covers",
    [needed, ...lengths],
    "rounded up to a stocked length",
  );
  const { nut, washer, washers, note } = joint;
  const text = [note, `in ${joint.name}`].filter((one) => one !== "").join("; ");
  const item = (name: string, quantity: number): HardwareUse => ({
    item: name,
    quantity,
    per: "hole",
    part: joint.part,
    holeDiameterMm: joint.holeDiameterMm,
    note: text,
    glue: null,
    place: joint.place,
  });
  return [
    // All of them, so that another length may be taken when a figure changes.
    ...stocked.map(({ row }, at) => ({
      use: item(row.id, 1),
      column: null,
      taken: { length, own: lengths[at] ?? length },
    })),
    { use: item(nut, 1), column: null, taken: null },
    ...(washer === null || washers === 0
      ? []
      : [{ use: item(washer, washers), column: "washers", taken: null }]),
  ];
}

function jointId(joint: JointUse, what: string): string {
  return `joint.${slug(joint.name)}.${what}`;
}

/** How long its bolts have to be, at least. */
export function addNeeded(sheet: FigureSheet, { job, tables }: Rows, joint: JointUse): string {
  const id = (what: string): string => jointId(joint, what);
  const layers = joint.through.map((layer, at) =>
    addLayer(sheet, job, joint, layer, id(`layer-${at + 1}`)),
  );
  const grip = sheet.derived(id("grip"), `${joint.name}, all layers`, "mm", "sum", layers);
  const nut = tables.hardware.find((row) => row.id === joint.nut);
  const washer = tables.hardware.find((row) => row.id === joint.washer);
  const parts = [grip, ...addWashers(sheet, joint, washer), ...addNut(sheet, joint, nut)];
  return sheet.derived(
    id("needed"),
    `${joint.name}, bolt as long as this at least`,
    "mm",
    "sum",
    parts,
    "layers + washers + nut + threads beyond it",
  );
}

function addLayer(
  sheet: FigureSheet,
  job: Rows["job"],
  joint: JointUse,
  layer: Clamped,
  id: string,
): string {
  if (layer.kind === "length")
    return sheet.given(id, `${joint.name}, layer`, "mm", layer.mm, jobCell(joint.place, "through"));
  const { mm, source } = thicknessOf(job, layer.part);
  return sheet.given(id, `${layer.part}, thickness`, "mm", mm, source);
}

/** As measured, else by its name. @throws RangeError for a part that is none. */
function thicknessOf(job: Rows["job"], name: string) {
  const part = job.parts.find((one) => one.name === name);
  if (part === undefined)
    throw new RangeError(`no part "${name}": it was to be refused beforehand`);
  const measured = job.measured.find(
    ({ material, thicknessMm }) =>
      sameText(material, part.material) && sameThickness(thicknessMm, part.thicknessMm),
  );
  return measured === undefined
    ? { mm: part.thicknessMm, source: jobCell(part.place, "thickness") }
    : {
        mm: measured.measuredMm,
        source: jobCell(measured.measuredPlace, measured.measuredPlace.column ?? "measured"),
      };
}

function addWashers(sheet: FigureSheet, joint: JointUse, row: HardwareRow | undefined): string[] {
  if (row === undefined || joint.washers === 0) return [];
  const id = (what: string): string => jointId(joint, what);
  const count = sheet.given(
    id("washers"),
    `${joint.name}, washers to a bolt`,
    "pcs",
    joint.washers,
    jobCell(joint.place, "washers"),
  );
  const each = sheet.given(
    id("washer"),
    `${row.description}, thickness`,
    "mm",
    row.heightMm ?? 0,
    cell(row, "height_mm"),
  );
  return [
    sheet.derived(id("all-washers"), `${joint.name}, washers`, "mm", "product", [count, each]),
  ];
}

/**
 * Through a nut, and two threads beyond it; into an insert as deep as the thread is wide, or as the
 * insert is long (common practice, no source).
 */
function addNut(sheet: FigureSheet, joint: JointUse, row: HardwareRow | undefined): string[] {
  if (row === undefined) return [];
  const id = (what: string): string => jointId(joint, what);
  if (row.role === "insert") {
    const label = `${row.description}, depth that the bolt needs in it`;
    const source = cell(row, "length_mm");
    return [sheet.given(id("insert"), label, "mm", leastDepth(joint, row), source)];
  }
  const height = sheet.given(
    id("nut"),
    `${row.description}, height`,
    "mm",
    row.heightMm ?? 0,
    cell(row, "height_mm"),
  );
  const place = { ...joint.place, column: "thread" };
  const pitch = sheet.given(
    id("pitch"),
    `${joint.thread}, pitch`,
    "mm",
    coarsePitch(joint.thread) ?? 0,
    { kind: "measured", place, what: `its coarse pitch (${PITCH_SOURCE})` },
  );
  const threads = sheet.given(id("threads"), `${joint.name}, threads beyond the nut`, "pcs", 2, {
    kind: "measured",
    place,
    what: "two are usual, one is the least (rule worked from a reference page)",
  });
  const beyond = [pitch, threads];
  return [
    height,
    sheet.derived(id("beyond"), `${joint.name}, thread beyond the nut`, "mm", "product", beyond),
  ];
}

/** mm of thread that an insert has to hold at least. */
export function leastDepth({ thread }: JointUse, { lengthMm }: HardwareRow): number {
  return Math.min(lengthMm ?? 0, Number(thread.slice(1)));
}
