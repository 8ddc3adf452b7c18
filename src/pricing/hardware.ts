import { moneyText } from "../money.ts";
import { noun } from "../names.ts";
import { lengthText } from "../units.ts";
import type { HardwareRow, HardwareUse } from "../job/types.ts";
import { holesMeant } from "./holes.ts";
import { cell, jobCell, rowText, slug } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { partId } from "./parts.ts";
import type { CostLine, FixingUsed, MeasuredPart, PricingInput } from "./types.ts";

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
  const { sheet, costs, making } = ledger;
  const id = (what: string): string => `hardware.${slug(row.id)}.${what}`;
  const needs = uses.map((use, index) => addUse(ledger, input, row, use, id(`use-${index + 1}`)));
  making.fixings.push(
    ...uses.map((use, index) => fixingUsed(ledger, use, row, needs[index] ?? id("need"))),
  );
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
  costs.push({
    section: "Fixings and bought-in parts",
    of: row.kind === "bought-in" ? "bought-in" : "materials",
    ...quoteWords(row, uses, input.job),
    cost,
    each: isByPiece(row, uses) ? { count: id("packs"), cost: id("price") } : null,
  });
  shop(ledger, input, row, id);
}

/** Spares are no part of the piece. What every piece has is named by itself, by the piece. */
function isByPiece({ kind, packSize, sparePercent }: HardwareRow, uses: readonly HardwareUse[]) {
  const single = packSize === 1 && sparePercent === 0;
  return kind === "bought-in" && single && uses.every(({ per }) => per === "piece");
}

/** The customer's words; glue and tape are not told from other items that go by the order. */
function quoteWords(
  row: HardwareRow,
  uses: readonly HardwareUse[],
  { pieces, pieceName }: PricingInput["job"],
): Pick<CostLine, "description" | "basis"> {
  if (row.kind === "fixing")
    return { description: "Fixings", basis: `for ${pieces} x ${pieceName}` };
  if (isByPiece(row, uses)) return { description: row.description, basis: "bought in" };
  return uses.every(({ per }) => per === "order")
    ? { description: "Other materials and items", basis: "for the order as a whole" }
    : { description: "Bought-in parts", basis: row.description };
}

/** What the bench gets to know of a use. */
function fixingUsed(
  { sheet }: Ledger,
  use: HardwareUse,
  { description }: HardwareRow,
  figure: string,
): FixingUsed {
  const { place: _place, ...told } = use;
  const each = sheet.value(figure).div(sheet.value("job.pieces"));
  return {
    ...told,
    description,
    eachPiece: use.per === "order" ? null : each.toString(),
    figure,
  };
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
  const drawn = part.form.kind === "drawing" ? "in the drawing" : "of the shape";
  const what = `holes of ${size} ${drawn}`;
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
  const packs = sheet.value(id("packs"));
  const [need, spare] = [id("need"), id("spare")].map((one) => sheet.value(one).toString());
  const withSpare = sheet.value(id("with-spare")).ceil().toString();
  shopping.push({
    kind: "hardware",
    item: row.id,
    description: row.description,
    quantity: packs.toString(),
    unit: row.packSize === 1 ? "pcs" : `${noun(packs.toNumber(), "pack")} of ${row.packSize}`,
    unitPrice: moneyText(row.packPrice, currency),
    amount: moneyText(sheet.value(id("cost")), currency),
    need: spare === "0" ? `${need} needed` : `${need} needed and ${spare} % spare: ${withSpare}`,
    source: rowText(row.place),
    figures: { quantity: id("packs"), unitPrice: id("price"), amount: id("cost") },
  });
}
