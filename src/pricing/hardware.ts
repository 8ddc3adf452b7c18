import { moneyText } from "../money.ts";
import { lengthText } from "../units.ts";
import type { HardwareRow, HardwareUse } from "../job/types.ts";
import { holesMeant } from "./holes.ts";
import { cell, jobCell, rowText, slug } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { partId } from "./parts.ts";
import type { MeasuredPart, PricingInput } from "./types.ts";

/** Fixings by order, piece, part or hole, bought in whole packs with spares; bought-in items. */
export function addHardware(ledger: Ledger, input: PricingInput): void {
  const items = [...new Set(input.job.hardware.map(({ item }) => item))];
  for (const item of items) {
    const row = input.tables.hardware.find(({ id }) => id === item);
    const uses = input.job.hardware.filter((use) => use.item === item);
    if (row) addItem(ledger, input, row, uses);
  }
}

function addItem(
  ledger: Ledger,
  input: PricingInput,
  row: HardwareRow,
  uses: readonly HardwareUse[],
): void {
  const { sheet, costs } = ledger;
  const id = (what: string): string => `hardware.${slug(row.id)}.${what}`;
  const needs = uses.map((use, index) => addUse(ledger, input, row, use, id(`use-${index + 1}`)));
  sheet.derived(id("need"), `${row.description}, needed`, "pcs", "sum", needs);
  sheet.given(
    id("spare"),
    `${row.description}, spare`,
    "percent",
    row.sparePercent,
    cell(row, "spare_percent"),
  );
  sheet.derived(id("with-spare"), `${row.description}, with spares`, "pcs", "plus percentage", [
    id("need"),
    id("spare"),
  ]);
  sheet.given(
    id("pack"),
    `${row.description}, in a pack`,
    "pcs",
    row.packSize,
    cell(row, "pack_size"),
  );
  sheet.derived(
    id("packs"),
    `${row.description}, packs to buy`,
    "pcs",
    "whole units",
    [id("with-spare"), id("pack")],
    "packs are sold whole",
  );
  sheet.given(
    id("price"),
    `${row.description}, a pack`,
    "currency",
    row.packPrice,
    cell(row, "pack_price"),
  );
  const cost = sheet.derived(id("cost"), row.description, "currency", "product", [
    id("packs"),
    id("price"),
  ]);
  // Spares are no part of the piece. What every piece has is named to the customer; what the workshop uses up stands in one line.
  const bySinglePiece =
    row.packSize === 1 && row.sparePercent === 0 && uses.every(({ per }) => per === "piece");
  const named = row.kind === "bought-in" && bySinglePiece;
  costs.push({
    section: "Fixings and bought-in parts",
    description: named ? row.description : "Fixings and consumables",
    basis: named ? "bought in" : "bolts, screws, adhesive and the like",
    cost,
    each: named ? { count: id("packs"), cost: id("price") } : null,
  });
  shop(ledger, input, row, id);
}

/** How many one row of the job's list calls for. */
function addUse(
  ledger: Ledger,
  input: PricingInput,
  row: HardwareRow,
  use: HardwareUse,
  id: string,
): string {
  const { sheet } = ledger;
  const each = sheet.given(
    `${id}-each`,
    `${row.description}, per ${use.per}`,
    "pcs",
    use.quantity,
    jobCell(use.place, "qty"),
  );
  if (use.per === "order") return each;
  const label = `${row.description}, ${use.part ?? "all"}`;
  if (use.per === "piece") return sheet.derived(id, label, "pcs", "product", [each, "job.pieces"]);
  const parts = input.parts.filter(({ part }) => use.part === null || part.name === use.part);
  if (use.per === "part") {
    const copies = sheet.derived(
      `${id}-parts`,
      `${label}: copies`,
      "pcs",
      "sum",
      parts.map(({ part }) => partId(part.name, "copies")),
    );
    return sheet.derived(id, label, "pcs", "product", [each, copies]);
  }
  const holes = parts.map((measured) =>
    addHoles(ledger, use, measured, `${id}.part.${slug(measured.part.name)}`),
  );
  sheet.derived(`${id}-holes`, `${label}: holes`, "pcs", "sum", holes);
  return sheet.derived(id, label, "pcs", "product", [each, `${id}-holes`]);
}

function addHoles(
  { sheet }: Ledger,
  use: HardwareUse,
  { part, geometry }: MeasuredPart,
  id: string,
): string {
  const wanted = holesMeant(use, geometry);
  const size = use.holeDiameterMm === null ? "round" : lengthText(use.holeDiameterMm);
  const what = `holes of ${size} in the drawing`;
  sheet.given(`${id}.each`, `${part.name}, ${size} holes in one copy`, "pcs", wanted.length, {
    kind: "measured",
    place: geometry.place,
    what,
  });
  return sheet.derived(id, `${part.name}, ${size} holes`, "pcs", "product", [
    `${id}.each`,
    partId(part.name, "copies"),
  ]);
}

function shop(
  { sheet, shopping }: Ledger,
  { currency }: PricingInput,
  row: HardwareRow,
  id: (what: string) => string,
): void {
  shopping.push({
    kind: "hardware",
    item: row.id,
    description: row.description,
    quantity: sheet.value(id("packs")).toString(),
    unit: row.packSize === 1 ? "pcs" : `packs of ${row.packSize}`,
    unitPrice: moneyText(row.packPrice, currency),
    amount: moneyText(sheet.value(id("cost")), currency),
    need: `needs ${sheet.value(id("need")).toString()}${row.sparePercent > 0 ? `, ${row.sparePercent} % spare` : ""}`,
    source: rowText(row.place),
  });
}
