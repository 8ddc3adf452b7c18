import { moneyText } from "../money.ts";
import { noun } from "../names.ts";
import { lengthText, trimmed } from "../units.ts";
import type { HardwareRow, HardwareUse } from "../job/types.ts";
import { addContent, addVolume, goesByMl } from "./glue.ts";
import { holesMeant } from "./holes.ts";
import { addJoints } from "./joints.ts";
import type { JointItem } from "./joints.ts";
import { cell, jobCell, rowText, slug } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { partId } from "./parts.ts";
import type { CostLine, FixingUsed, MeasuredPart, PricingInput } from "./types.ts";

/** Fixings by order, piece, part, hole or joint, bought in whole packs with spares; bought-in items. */
export function addHardware(ledger: Ledger, input: PricingInput): void {
  const listed = input.job.hardware.map((use) => ({ use, column: "qty", taken: null }));
  const wanted = [...listed, ...addJoints(ledger, input)];
  const items = [...new Set(wanted.map(({ use }) => use.item))];
  for (const item of items) {
    const row = input.tables.hardware.find(({ id }) => id === item);
    const its = wanted.filter(({ use }) => use.item === item);
    if (row) addItem(ledger, input, row, its);
  }
}

function addItem(
  ledger: Ledger,
  input: PricingInput,
  row: HardwareRow,
  wanted: readonly JointItem[],
): void {
  const { sheet, costs, making } = ledger;
  const id = (what: string): string => `hardware.${slug(row.id)}.${what}`;
  const uses = wanted.map(({ use }) => use);
  const needs = addNeeds(ledger, input, row, wanted);
  const used = uses.flatMap((use, index) =>
    fixingUsed(ledger, use, row, needs[index] ?? id("need")),
  );
  making.fixings.push(...used);
  addPacks(ledger, row, needs, goesByMl(row, uses) ? "ml" : "pcs");
  const cost = addCost(ledger, row);
  // Bolts of lengths that are not taken are there for their formulas alone.
  const bought = !sheet.value(id("packs")).isZero();
  costs.push({
    section: "Fixings and bought-in parts",
    of: row.kind === "bought-in" ? "bought-in" : "materials",
    ...quoteWords(row, uses, input.job),
    ...(bought ? {} : { basis: "" }),
    cost,
    each: isByPiece(row, uses) ? { count: id("packs"), cost: id("price") } : null,
  });
  if (bought) shop(ledger, input, row, uses);
}

/** How many each use calls for, or how many ml. */
function addNeeds(
  ledger: Ledger,
  input: PricingInput,
  row: HardwareRow,
  wanted: readonly JointItem[],
): readonly string[] {
  const id = (what: string): string => `hardware.${slug(row.id)}.${what}`;
  const inMl = goesByMl(
    row,
    wanted.map(({ use }) => use),
  );
  const content = inMl ? addContent(ledger, row, id("content")) : "";
  return wanted.map((one, index) => {
    const useId = id(`use-${index + 1}`);
    const count = addWanted(ledger, input, row, one, useId);
    return inMl ? addVolume(ledger, row, one.use, { id: useId, count, content }) : count;
  });
}

/** Whole packs or bottles to buy, with spares. */
function addPacks(
  { sheet }: Ledger,
  row: HardwareRow,
  needs: readonly string[],
  unit: "pcs" | "ml",
): void {
  const id = (what: string): string => `hardware.${slug(row.id)}.${what}`;
  const label = (what: string): string => `${row.description}, ${what}`;
  sheet.derived(id("need"), label("needed"), unit, "sum", needs);
  sheet.given(id("spare"), label("spare"), "percent", row.sparePercent, cell(row, "spare_percent"));
  const withSpare = [id("need"), id("spare")];
  sheet.derived(id("with-spare"), label("with spares"), unit, "plus percentage", withSpare);
  const pack = sheet.given(
    id("pack"),
    label("in a pack"),
    "pcs",
    row.packSize,
    cell(row, "pack_size"),
  );
  const holds =
    unit === "pcs"
      ? pack
      : sheet.derived(id("pack-ml"), label("ml in a pack"), "ml", "product", [id("content"), pack]);
  const inputs = [id("with-spare"), holds];
  sheet.derived(id("packs"), label("packs to buy"), "pcs", "whole units", inputs, SOLD_WHOLE);
  if (row.charge === "used")
    sheet.derived(id("packs-used"), label("packs used"), "pcs", "quotient", inputs);
}

/** Of whole packs as bought, or of what is used of them, as the row says. */
function addCost({ sheet }: Ledger, row: HardwareRow): string {
  const id = (what: string): string => `hardware.${slug(row.id)}.${what}`;
  sheet.given(
    id("price"),
    `${row.description}, a pack`,
    "currency",
    row.packPrice,
    cell(row, "pack_price"),
  );
  const used = row.charge === "used";
  if (used)
    sheet.derived(id("bought"), `${row.description}, as bought`, "currency", "product", [
      id("packs"),
      id("price"),
    ]);
  const inputs = [id(used ? "packs-used" : "packs"), id("price")];
  const because = used ? "charged as used: charge in hardware.csv" : "";
  return sheet.derived(id("cost"), row.description, "currency", "product", inputs, because);
}

/** Spares are no part of the piece. What every piece has is named by itself, by the piece. */
function isByPiece({ kind, packSize, sparePercent }: HardwareRow, uses: readonly HardwareUse[]) {
  const single = packSize === 1 && sparePercent === 0;
  const counted = uses.every(({ per, glue }) => per === "piece" && glue === null);
  return kind === "bought-in" && single && counted;
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

/** What the bench gets to know of a use; nothing of a bolt that is not taken. */
function fixingUsed(
  { sheet }: Ledger,
  use: HardwareUse,
  { description }: HardwareRow,
  figure: string,
): readonly FixingUsed[] {
  if (sheet.value(figure).isZero()) return [];
  const { place: _place, ...told } = use;
  const each = sheet.value(figure).div(sheet.value("job.pieces"));
  const eachPiece = use.per === "order" ? null : each.toString();
  return [{ ...told, description, eachPiece, figure }];
}

/** Of a bolt so many as its joint has, where its length is the one taken. */
function addWanted(
  ledger: Ledger,
  input: PricingInput,
  row: HardwareRow,
  { use, column, taken }: JointItem,
  id: string,
): string {
  if (taken === null) return addUse(ledger, input, row, use, column, id);
  const count = addUse(ledger, input, row, use, column, `${id}-all`);
  const inputs = [count, taken.length, taken.own];
  return ledger.sheet.derived(id, `${row.description}, ${use.note}`, "pcs", "where taken", inputs);
}

/**
 * How many one row of the job's lists calls for.
 * @param column where it says how many to each; null for one.
 */
function addUse(
  ledger: Ledger,
  input: PricingInput,
  row: HardwareRow,
  use: HardwareUse,
  column: string | null,
  id: string,
): string {
  const { sheet } = ledger;
  const each =
    column === null
      ? []
      : [
          sheet.given(
            `${id}-each`,
            `${row.description}, per ${use.per}`,
            "pcs",
            use.quantity,
            jobCell(use.place, column),
          ),
        ];
  const counts = addUnits(ledger, input, row, use, id);
  const [only, ...more] = [...each, ...counts];
  if (only !== undefined && more.length === 0) return only;
  const label = `${row.description}, ${use.part ?? "all"}`;
  return sheet.derived(id, label, "pcs", "product", [...each, ...counts]);
}

/** Pieces, copies or holes that it is counted by; none for the order as a whole. */
function addUnits(
  ledger: Ledger,
  input: PricingInput,
  row: HardwareRow,
  use: HardwareUse,
  id: string,
): readonly string[] {
  const { sheet } = ledger;
  if (use.per === "order") return [];
  if (use.per === "piece") return ["job.pieces"];
  const label = `${row.description}, ${use.part ?? "all"}`;
  const parts = input.parts.filter(({ part }) => use.part === null || part.name === use.part);
  if (use.per === "part") {
    const copies = parts.map(({ part }) => partId(part.name, "copies"));
    return [sheet.derived(`${id}-parts`, `${label}: copies`, "pcs", "sum", copies)];
  }
  const holes = parts.map((measured) =>
    addHoles(ledger, use, measured, `${id}.part.${slug(measured.part.name)}`),
  );
  return [sheet.derived(`${id}-holes`, `${label}: holes`, "pcs", "sum", holes)];
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
  uses: readonly HardwareUse[],
): void {
  const id = (what: string): string => `hardware.${slug(row.id)}.${what}`;
  const packs = sheet.value(id("packs"));
  // At the till whole packs are paid, whatever is charged of them.
  const amount = id(row.charge === "used" ? "bought" : "cost");
  const unit = goesByMl(row, uses) ? " ml" : "";
  const [need, spare] = [id("need"), id("spare")].map((one) =>
    trimmed(sheet.value(one).toNumber(), 2),
  );
  const withSpare = sheet.value(id("with-spare")).ceil().toString();
  shopping.push({
    kind: "hardware",
    item: row.id,
    description: row.description,
    quantity: packs.toString(),
    unit: row.packSize === 1 ? "pcs" : `${noun(packs.toNumber(), "pack")} of ${row.packSize}`,
    unitPrice: moneyText(row.packPrice, currency),
    amount: moneyText(sheet.value(amount), currency),
    need:
      spare === "0"
        ? `${need}${unit} needed`
        : `${need}${unit} needed and ${spare} % spare: ${withSpare}${unit}`,
    source: rowText(row.place),
    figures: { quantity: id("packs"), unitPrice: id("price"), amount },
  });
}

const SOLD_WHOLE = "packs are sold whole";
