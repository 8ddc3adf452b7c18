import type { FigureSheet } from "../figure.ts";
import { moneyText } from "../money.ts";
import { noun } from "../names.ts";
import { trimmed } from "../units.ts";
import type { FinishRow, PaintRow, Part } from "../job/types.ts";
import { cell, rowText, slug } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { madeId, partId } from "./parts.ts";
import { coatUsesText } from "./coats.ts";
import type { CoatUse } from "./coats.ts";
import { finishBasis, workWords } from "./quote-words.ts";
import type { FinishMade, PricingInput } from "./types.ts";

/**
 * Cans from areas: A = faces + edges (outline and holes times thickness), times coats, over the
 * area that one can covers less its loss (practical = theoretical x (1 - loss), corrosion glossary).
 * Whole cans are bought and charged.
 */
export function addPaint(ledger: Ledger, input: PricingInput): void {
  const finishes = [...new Set(input.parts.flatMap(({ part }) => part.finish ?? []))];
  const coats = finishes.flatMap((finish) => addFinish(ledger, input, finish));
  const paints = [...new Set(coats.map(({ paint }) => paint))];
  for (const paint of paints) {
    const row = input.tables.paints.find(({ id }) => id === paint);
    const uses = coats.filter((coat) => coat.paint === paint);
    if (row) addCans(ledger, input, row, uses);
  }
}

/** Finished area of one part, all copies, once over: the widest of its finish's steps. */
export function finishedArea(ledger: Ledger, input: PricingInput, part: Part): string | null {
  const steps = stepsOf(input, part.finish);
  const widest = steps.find((step) => step.faces === "both") ?? steps[0];
  if (!widest) return null;
  const edges = steps.some((step) => step.edges);
  return areaOnce(ledger, part, widest.faces, edges);
}

/** Area of one part, all copies, times the coats of every step. */
export function coatedArea(ledger: Ledger, input: PricingInput, part: Part): string | null {
  const steps = stepsOf(input, part.finish).map((step) => stepCoats(ledger, step, part));
  const id = partId(part.name, "coated");
  if (steps.length === 0 || ledger.sheet.has(id)) return steps.length === 0 ? null : id;
  return ledger.sheet.derived(id, `${part.name}, every coat of every copy`, "m2", "sum", steps);
}

function stepsOf({ tables }: PricingInput, finish: string | null): readonly FinishRow[] {
  return tables.finishes.filter(({ id }) => id === finish);
}

/** A step of a finish on all of its parts, with the figure of the area of its coats. */
interface PaintUse extends CoatUse {
  readonly paint: string;
  readonly area: string;
}

function addFinish(ledger: Ledger, input: PricingInput, finish: string): readonly PaintUse[] {
  const parts = input.parts.map(({ part }) => part).filter((part) => part.finish === finish);
  const steps = stepsOf(input, finish);
  ledger.making.finishes.push({ finish, steps: steps.map((step) => stepMade(step, input)) });
  return steps.map((step) => {
    const areas = parts.map((part) => stepCoats(ledger, step, part));
    const id = `${stepId(step)}.area`;
    const area = ledger.sheet.derived(
      id,
      `${finish}, ${step.step}: area of all coats`,
      "m2",
      "sum",
      areas,
    );
    const { paint, coats, faces, edges } = step;
    return { paint, area, coats, faces, edges, parts: parts.map(({ name }) => name) };
  });
}

/** What the bench gets to know of a step. */
function stepMade(
  { step, paint, coats, faces, edges }: FinishRow,
  { tables }: PricingInput,
): FinishMade["steps"][number] {
  const description = tables.paints.find(({ id }) => id === paint)?.description ?? paint;
  return { step, paint, description, coats, faces, edges };
}

function stepId({ id, step }: FinishRow): string {
  return `finish.${slug(id)}.${slug(step)}`;
}

function stepCoats({ sheet, ...ledger }: Ledger, step: FinishRow, part: Part): string {
  const id = `${stepId(step)}.part.${slug(part.name)}`;
  if (sheet.has(id)) return id;
  const coats = `${stepId(step)}.coats`;
  if (!sheet.has(coats))
    sheet.given(coats, `${step.id}, ${step.step}: coats`, "pcs", step.coats, cell(step, "coats"));
  const once = areaOnce({ sheet, ...ledger }, part, step.faces, step.edges);
  return sheet.derived(id, `${part.name}, ${step.step}: area of all coats`, "m2", "product", [
    once,
    coats,
  ]);
}

/** Area of all copies of a part once over: A = 1 or 2 faces, with or without its edges. */
function areaOnce(ledger: Ledger, part: Part, faces: "front" | "both", edges: boolean): string {
  const { sheet } = ledger;
  const id = partId(part.name, `area-${faces}${edges ? "-edges" : ""}`);
  if (sheet.has(id)) return id;
  const of = (what: string): string => partId(part.name, what);
  const one = [of(faces === "both" ? "faces" : "face"), ...(edges ? [of("edge")] : [])];
  const what = `${faces === "both" ? "both faces" : "front"}${edges ? " and edges" : ""}`;
  sheet.derived(`${id}-each`, `${part.name}, ${what}, one copy`, "m2", "sum", one);
  return sheet.derived(id, `${part.name}, ${what}, all copies`, "m2", "product", [
    `${id}-each`,
    madeId(ledger, part.name),
  ]);
}

function addCans(
  { sheet, costs, shopping }: Ledger,
  input: PricingInput,
  row: PaintRow,
  uses: readonly PaintUse[],
): void {
  const { currency } = input;
  const areas = uses.map(({ area }) => area);
  const id = (what: string): string => `paint.${slug(row.id)}.${what}`;
  sheet.derived(id("area"), `${row.description}, area of all coats`, "m2", "sum", areas);
  addSpread(sheet, row, id);
  sheet.given(
    id("loss"),
    `${row.description}, loss`,
    "percent",
    row.lossPercent,
    cell(row, "loss_percent"),
  );
  sheet.derived(
    id("practical"),
    `${row.description}, area a can covers`,
    "m2",
    "less percentage",
    [id("spread"), id("loss")],
    "practical = theoretical x (1 - loss)",
  );
  sheet.derived(id("used"), `${row.description}, cans used`, "pcs", "quotient", [
    id("area"),
    id("practical"),
  ]);
  sheet.derived(
    id("cans"),
    `${row.description}, cans to buy`,
    "pcs",
    "rounded up",
    [id("used")],
    "cans are sold whole",
  );
  sheet.given(id("price"), `${row.description}, a can`, "currency", row.price, cell(row, "price"));
  const cost = sheet.derived(id("cost"), row.description, "currency", "product", [
    id("cans"),
    id("price"),
  ]);
  costs.push({
    section: "Finishing",
    description: workWords("Finishing", input),
    basis: finishBasis(input),
    cost,
    each: null,
  });
  const cans = sheet.value(id("cans"));
  shopping.push({
    kind: "paint",
    item: row.id,
    description: row.description,
    quantity: cans.toString(),
    unit: `${noun(cans.toNumber(), "can")} of ${trimmed(row.contentMl, 1)} ml`,
    unitPrice: moneyText(row.price, currency),
    amount: moneyText(sheet.value(cost), currency),
    need: `${sheet.value(id("used")).toFixed(2)} cans used: ${coatUsesText(uses)}`,
    source: rowText(row.place),
    figures: { quantity: id("cans"), unitPrice: id("price"), amount: cost },
  });
}

/** What a can covers before losses: told by its label, or from its solids and the film wanted. */
function addSpread(sheet: FigureSheet, row: PaintRow, id: (what: string) => string): void {
  const label = `${row.description}, area a can covers before losses`;
  const { spread, contentMl, solidsPercent, filmUm } = row;
  if (spread !== null || solidsPercent === null || filmUm === null) {
    sheet.given(id("spread"), label, "m2", spread?.likely ?? 0, cell(row, "spread_m2"));
    return;
  }
  sheet.given(
    id("content"),
    `${row.description}, content`,
    "ml",
    contentMl,
    cell(row, "content_ml"),
  );
  sheet.derived(id("litres"), `${row.description}, content`, "l", "ml to l", [id("content")]);
  sheet.given(
    id("solids"),
    `${row.description}, volume solids`,
    "percent",
    solidsPercent,
    cell(row, "solids_percent"),
  );
  sheet.given(
    id("film"),
    `${row.description}, dry film of a coat`,
    "um",
    filmUm,
    cell(row, "film_um"),
  );
  const inputs = [id("litres"), id("solids"), id("film")];
  const because = "m2/l = 10 x solids % / film um (spreading-rate sheet)";
  sheet.derived(id("spread"), label, "m2", "spreading rate", inputs, because);
}
