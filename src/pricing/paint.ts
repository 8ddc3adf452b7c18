import type { FinishRow, PaintRow, Part } from "../job/types.ts";
import { coatUsesText } from "./coats.ts";
import type { CoatUse } from "./coats.ts";
import { paintOf, pastOutline, stepCoats, stepId, stepsOf } from "./coated-area.ts";
import { cell, spreadOf } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { addBought, paintId } from "./paint-bought.ts";
import { addReach, methodOf } from "./paint-reach.ts";
import { addThinner } from "./thinner.ts";
import type { FinishMade, PricingInput } from "./types.ts";

/**
 * Cans, pads and rolls from areas: every coat of every copy, what is painted beside the parts and what
 * raw board drinks, over the area that one covers less its loss. They are bought and charged whole.
 */
export function addPaint(ledger: Ledger, input: PricingInput): void {
  const finishes = [...new Set(input.parts.flatMap(({ part }) => part.finish ?? []))];
  const uses = finishes.flatMap((finish) => addFinish(ledger, input, finish));
  const rows = [...new Set(uses.map(({ row }) => row))];
  for (const row of rows)
    addUsed(
      ledger,
      input,
      row,
      uses.filter((use) => use.row === row),
    );
  for (const thinner of input.tables.paints) addThinner(ledger, input, thinner, rows);
}

/** A step of a finish on all of its parts, with the figure of the area that it takes. */
interface PaintUse extends CoatUse {
  readonly row: PaintRow;
  readonly area: string;
}

function addFinish(ledger: Ledger, input: PricingInput, finish: string): readonly PaintUse[] {
  const parts = input.parts.map(({ part }) => part).filter((part) => part.finish === finish);
  const steps = stepsOf(input, finish);
  const made = steps.map((step) => stepMade(step, input));
  ledger.making.finishes.push({ finish, calendar: null, steps: made });
  return steps.flatMap((step) => {
    const row = paintOf(step, input);
    if (row === null) return [];
    const { coats, faces, edges } = step;
    const area = stepArea(ledger, input, step, row, parts);
    return [
      { row, area, coats, faces, edges, kind: row.kind, parts: parts.map(({ name }) => name) },
    ];
  });
}

/** What the bench gets to know of a step. */
function stepMade(step: FinishRow, input: PricingInput): FinishMade["steps"][number] {
  const { paint, coats, faces, edges } = step;
  const row = paintOf(step, input);
  return {
    step: step.step,
    paint,
    description: row?.description ?? "",
    kind: row?.kind ?? null,
    coats,
    faces,
    edges,
    drying: row?.drying ?? null,
  };
}

/** Of all coats on all parts, with what goes past them and what soaks in. */
function stepArea(
  ledger: Ledger,
  input: PricingInput,
  step: FinishRow,
  row: PaintRow,
  parts: readonly Part[],
): string {
  const { sheet } = ledger;
  const id = stepId(step);
  const label = `${step.id}, ${step.step}`;
  const areas = parts.map((part) => stepCoats(ledger, step, part));
  const all = sheet.derived(`${id}.area`, `${label}: area of all coats`, "m2", "sum", areas);
  const past = addPast(ledger, input, step, row, parts);
  const sprayed =
    past === null
      ? all
      : sheet.derived(`${id}.painted`, `${label}: with what goes past`, "m2", "sum", [all, past]);
  return addSoaked(ledger, step, sprayed);
}

function addPast(
  ledger: Ledger,
  input: PricingInput,
  step: FinishRow,
  row: PaintRow,
  parts: readonly Part[],
): string | null {
  const method = methodOf(row, input);
  if (method === null || method.pastMm === null || step.faces === "none") return null;
  const { pastMm } = method;
  const strips = parts.map((part) => pastOutline(ledger, step, part, { ...method, pastMm }));
  const label = `${step.id}, ${step.step}: painted past the outlines`;
  return ledger.sheet.derived(`${stepId(step)}.past`, label, "m2", "sum", strips);
}

function addSoaked({ sheet }: Ledger, step: FinishRow, area: string): string {
  const { soakPercent } = step;
  if (soakPercent === null) return area;
  const id = stepId(step);
  const label = `${step.id}, ${step.step}`;
  const soak = sheet.given(
    `${id}.soak`,
    `${label}: soaks in`,
    "percent",
    soakPercent.likely,
    cell(step, "soak_percent"),
    spreadOf(soakPercent),
  );
  const because = "raw board drinks";
  const inputs = [area, soak];
  return sheet.derived(
    `${id}.taken`,
    `${label}: with what soaks in`,
    "m2",
    "grown for loss",
    inputs,
    because,
  );
}

function addUsed(
  ledger: Ledger,
  input: PricingInput,
  row: PaintRow,
  uses: readonly PaintUse[],
): void {
  const { sheet } = ledger;
  const { description, soldAs } = row;
  const id = (what: string): string => paintId(row, what);
  const areas = uses.map(({ area }) => area);
  sheet.derived(id("area"), `${description}, area of all coats`, "m2", "sum", areas);
  const reach = addReach(sheet, row, input, id);
  const label = `${description}, ${soldAs}s used`;
  sheet.derived(id("used"), label, "pcs", "quotient", [id("area"), reach]);
  addBought(ledger, input, row, coatUsesText(uses));
}
