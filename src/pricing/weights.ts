import type { Part } from "../job/types.ts";
import { goesByMl } from "./glue.ts";
import { itemsUsed } from "./joints.ts";
import { cell, givenOnce, jobCell, slug, spreadOf } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { partId } from "./parts.ts";
import { lengthIds } from "./stock-lengths.ts";
import type { MeasuredJob, PricingInput } from "./types.ts";

/**
 * What the goods weigh: sheet parts by area, thickness and density, lengths by the metre, fixings and
 * bought-in items each. Paint and glue are left out. Spare copies stay in the workshop.
 */

/** What of the job has no weight in the tables, in words. */
export function unweighed({ job, tables }: MeasuredJob): readonly string[] {
  const materials = job.parts
    .map(({ material }) => material)
    .filter((name) => !tables.materials.some(({ material }) => material === name));
  const used = itemsUsed({ job, tables });
  const items = tables.hardware.filter(
    (row) => row.weightG === null && used.has(row.id) && !goesByMl(row, job.hardware),
  );
  const sections = tables.stockLengths.filter(
    ({ id, kgPerM }) => kgPerM === null && job.lengths.some(({ stock }) => stock === id),
  );
  return [...new Set([...materials, ...[...items, ...sections].map(({ id }) => id)])];
}

/** Of each part, of a piece and of the order, as far as everything in them has a weight. */
export function addWeights(ledger: Ledger, input: PricingInput): void {
  const { sheet } = ledger;
  const parts = input.job.parts.map((part) => addPartWeight(ledger, input, part));
  const known = parts.filter((id) => id !== null);
  if (known.length < parts.length) return;
  const each = sheet.derived("weight.parts", "sheet parts of one piece", "kg", "sum", known);
  if (unweighed(input).length > 0) return;
  const all = sheet.derived("weight.all-parts", "sheet parts of the order", "kg", "product", [
    each,
    "job.pieces",
  ]);
  const others = [...addLengthWeights(ledger, input), ...addItemWeights(ledger, input)];
  const order = sheet.derived(
    "weight.order",
    "the order, paint and packing left out",
    "kg",
    "sum",
    [all, ...others],
  );
  const label = `one ${input.job.pieceName}, its share of the order`;
  sheet.derived("weight.piece", label, "kg", "quotient", [order, "job.pieces"]);
}

/** Of all copies in one piece; null where the density is not known. */
function addPartWeight({ sheet }: Ledger, { tables }: PricingInput, part: Part): string | null {
  const row = tables.materials.find(({ material }) => material === part.material);
  if (row === undefined) return null;
  const density = givenOnce(
    sheet,
    `material.${slug(row.material)}.density`,
    `${row.material}, density`,
    "kg/m3",
    row.densityKgM3.likely,
    cell(row, "density_kg_m3"),
    spreadOf(row.densityKgM3),
  );
  const one = sheet.derived(
    partId(part.name, "weight"),
    `${part.name}, one copy`,
    "kg",
    "product",
    [partId(part.name, "face"), partId(part.name, "thickness"), density],
  );
  const label = `${part.name}, all copies in one piece`;
  return sheet.derived(partId(part.name, "weight-each"), label, "kg", "product", [
    one,
    partId(part.name, "each"),
  ]);
}

function addLengthWeights({ sheet }: Ledger, { job, tables }: PricingInput): readonly string[] {
  const ids = lengthIds(job);
  return job.lengths.flatMap((use, index) => {
    const row = tables.stockLengths.find(({ id, kgPerM }) => id === use.stock && kgPerM !== null);
    const id = ids[index];
    if (row === undefined || row.kgPerM === null || id === undefined) return [];
    const metre = givenOnce(
      sheet,
      `bars.${slug(row.id)}.kg-per-m`,
      `${row.description}, weight of a metre`,
      "kg/m",
      row.kgPerM,
      cell(row, "kg_per_m"),
    );
    const long = `${use.name}, length`;
    sheet.given(`${id}.metres`, long, "m", use.lengthMm / 1000, jobCell(use.place, "length"));
    const inputs = [`${id}.count`, `${id}.metres`, metre];
    return [sheet.derived(`${id}.weight`, `${use.name}, in all`, "kg", "product", inputs)];
  });
}

function addItemWeights({ sheet }: Ledger, { job, tables }: PricingInput): readonly string[] {
  return tables.hardware.flatMap((row) => {
    const id = (what: string): string => `hardware.${slug(row.id)}.${what}`;
    if (row.weightG === null || !sheet.has(id("need")) || goesByMl(row, job.hardware)) return [];
    const one = sheet.given(
      id("weight-one"),
      `${row.description}, weight of one`,
      "g",
      row.weightG,
      cell(row, "weight_g"),
    );
    const grams = [id("need"), one];
    const label = `${row.description}, weight of what is needed`;
    sheet.derived(id("weight-g"), label, "g", "product", grams);
    return [sheet.derived(id("weight"), label, "kg", "g to kg", [id("weight-g")])];
  });
}
