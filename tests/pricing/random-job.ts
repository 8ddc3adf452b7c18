import * as fc from "fast-check";
import type { EstimateInput } from "../../src/estimate-data.ts";
import { readWorked, sourceText, TABLES } from "../worked/tool-board.ts";
import { withPrices } from "../helpers/prices.ts";

/** Small commissions drawn by lot, as texts; the tables are those of the hand-worked job. */

export interface RandomPart {
  readonly shape: "rectangle" | "disc" | "ring";
  /** In eighths of an inch, so that both ways to write it are exact. */
  readonly eighths: readonly [number, number];
  readonly quantity: number;
  readonly stock: "birch plywood,9" | "acrylic cast,3";
  readonly finish: "" | "oiled" | "signal-red";
}

export interface RandomJob {
  readonly pieces: number;
  readonly parts: readonly RandomPart[];
  readonly hardware: readonly string[];
  readonly lengths: readonly (readonly [number, number])[];
  readonly tasks: readonly string[];
  readonly settings: Readonly<Record<string, string>>;
  readonly currency: "EUR" | "JPY" | "BHD";
  readonly own: boolean;
}

/** How one job is written down. */
export interface Wording {
  readonly inches?: boolean;
  /** What parts are called, by number. */
  readonly nameOf?: (index: number) => string;
  readonly reversed?: boolean;
  readonly tables?: Readonly<Record<string, string>>;
}

const part: fc.Arbitrary<RandomPart> = fc.record({
  shape: fc.constantFrom("rectangle", "disc", "ring"),
  eighths: fc.tuple(fc.integer({ min: 8, max: 60 }), fc.integer({ min: 8, max: 40 })),
  quantity: fc.integer({ min: 1, max: 3 }),
  stock: fc.constantFrom("birch plywood,9", "acrylic cast,3"),
  finish: fc.constantFrom("", "oiled", "signal-red"),
});

const percent = (max: number): fc.Arbitrary<string> =>
  fc.integer({ min: 0, max: max * 4 }).map((quarters) => String(quarters / 4));

export const randomJob: fc.Arbitrary<RandomJob> = fc.record({
  pieces: fc.integer({ min: 1, max: 3 }),
  parts: fc.array(part, { minLength: 1, maxLength: 3 }),
  hardware: fc.subarray(["wood-screw", "hook-rail", "wood-glue", "m5-bolt"]),
  lengths: fc.array(fc.tuple(fc.integer({ min: 80, max: 900 }), fc.integer({ min: 1, max: 3 })), {
    maxLength: 2,
  }),
  tasks: fc.subarray(
    ["drawing", "peel", "deburr", "scuff", "spray", "drill", "saw", "assemble", "pack"],
    { minLength: 1 },
  ),
  settings: fc
    .record({
      overhead_percent: percent(30),
      contingency_percent: percent(15),
      profit: fc.tuple(fc.constantFrom("markup_percent", "margin_percent"), percent(45)),
      tax_percent: percent(25),
      round_total_to: fc.constantFrom("0", "1", "5", "12"),
      delivery: fc.constantFrom("0", "18", "7"),
    })
    .map(({ profit: [name, value], ...others }) => ({ ...others, [name]: value })),
  currency: fc.constantFrom("EUR", "JPY", "BHD"),
  own: fc.boolean(),
});

export function inputOf(job: RandomJob, wording: Wording = {}): EstimateInput {
  const { nameOf = plainName } = wording;
  const parts = job.parts.map((one, index) => partRow(one, nameOf(index), wording));
  const hardware = job.hardware.map((item) => `${item},2,${perOf(item, job, nameOf)}`);
  const lengths = job.lengths.map(([mm, count], index) => `rail-${index},oak-strip,${mm},${count}`);
  const files = {
    "parts.csv": lines(PARTS, wording.reversed ? parts.toReversed() : parts),
    "job.yaml": lines(`pieces: ${job.pieces}`, ["machine: laser"]),
    ...(hardware.length > 0 && { "hardware.csv": lines("item,qty,per,part", hardware) }),
    ...(lengths.length > 0 && { "lengths.csv": lines("name,stock,length,qty", lengths) }),
    "hand-work.csv": lines(
      "task,qty",
      job.tasks.map((task) => `${task},1`),
    ),
  };
  const tables = tablesOf(job, wording);
  return {
    jobName: "random",
    job: Object.entries(files).map(([name, text]) => sourceText(name, text)),
    tables: Object.entries(tables).map(([name, text]) => sourceText(`tables/${name}`, text)),
    seed: 1,
    steps: 1,
  };
}

/** Of each material one size only: which of several is taken is the nest's business. */
export function tablesOf(job: RandomJob, { tables }: Wording = {}): Record<string, string> {
  const texts = Object.fromEntries(TABLES.map((name) => [name, readWorked(`tables/${name}`)]));
  const rows = Object.entries({ currency: job.currency, ...job.settings });
  const settings = ["id,value,valid_from,source", ...rows.map(dated)];
  const [sheetHead = "", ...sheets] = (texts["sheets.csv"] ?? "").trim().split("\n");
  const one = [...sheets.filter((row) => row.startsWith("ply-9-600x400")), ACRYLIC];
  const priced = {
    ...texts,
    "sheets.csv": [sheetHead, ...one].join("\n"),
    "machines.csv": owned(texts["machines.csv"] ?? "", job.own),
  };
  const payable = Object.entries(priced).map(([name, text]) => [name, inCoins(text, job)]);
  return { ...Object.fromEntries(payable), "settings.csv": settings.join("\n"), ...tables };
}

/** A hundred yen for each euro: nobody pays a part of a yen. */
function inCoins(text: string, { currency }: RandomJob): string {
  return currency === "JPY" ? withPrices(text, (price) => price.times(100).toString()) : text;
}

function owned(machines: string, own: boolean): string {
  return own ? machines.replace("service,1.25,minute,10,5", "own,14.50,hour,0,0") : machines;
}

const ACRYLIC = "acrylic-3-600x400,acrylic cast,3,sheet,600,400,15.20,5,3,,2026-01-01,by lot";
const PARTS = "part,qty,material,thickness,shape,width,height,diameter,bore,finish,turn";

function lines(header: string, rows: readonly string[]): string {
  return [header, ...rows].join("\n");
}

function dated([name, value]: readonly [string, string]): string {
  return `${name},${value},2026-01-01,by lot`;
}

function plainName(index: number): string {
  return `part-${index + 1}`;
}

function perOf(item: string, { parts }: RandomJob, nameOf: (index: number) => string): string {
  const ring = parts.findIndex(({ shape }) => shape === "ring");
  if (item === "wood-screw") return `part,${nameOf(0)}`;
  if (item === "wood-glue") return "order,";
  return item === "m5-bolt" && ring >= 0 ? `hole,${nameOf(ring)}` : "piece,";
}

function partRow(
  { shape, eighths: [a, b], quantity, stock, finish }: RandomPart,
  name: string,
  { inches = false }: Wording,
): string {
  const size = (count: number): string => (inches ? `${count}/8 in` : `${count * 3.175} mm`);
  const sizes = {
    rectangle: `${size(a)},${size(b)},,`,
    disc: `,,${size(b)},`,
    ring: `,,${size(b)},${size(b - 5)}`,
  };
  return `${name},${quantity},${stock},${shape},${sizes[shape]},${finish},quarter`;
}
