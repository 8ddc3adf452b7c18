import type { FinishRow, MethodRow, PaintRow, Part, Spread } from "../job/types.ts";
import { cell, givenOnce, slug, spreadOf } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { madeId, partId } from "./parts.ts";
import type { PricingInput } from "./types.ts";

/**
 * Areas that a finish takes: A = faces + edges (outline and holes times thickness), for every copy and
 * coat, and what is painted beside the parts.
 */

/** Finished area of one part, all copies, once over: the widest of its finish's steps. */
export function finishedArea(ledger: Ledger, input: PricingInput, part: Part): string | null {
  const steps = stepsOf(input, part.finish);
  const wide = (["both", "front", "none"] as const).find((faces) =>
    steps.some((step) => step.faces === faces),
  );
  if (wide === undefined) return null;
  const edges = steps.some((step) => step.edges);
  return areaOnce(ledger, part, wide, edges);
}

/** Area of one part, all copies, times the coats of every step that puts something on. */
export function coatedArea(ledger: Ledger, input: PricingInput, part: Part): string | null {
  const steps = stepsOf(input, part.finish).filter((step) => isCoat(step, input));
  const areas = steps.map((step) => stepCoats(ledger, step, part));
  const id = partId(part.name, "coated");
  if (areas.length === 0 || ledger.sheet.has(id)) return areas.length === 0 ? null : id;
  return ledger.sheet.derived(id, `${part.name}, every coat of every copy`, "m2", "sum", areas);
}

export function stepsOf(
  { tables }: Pick<PricingInput, "tables">,
  finish: string | null,
): readonly FinishRow[] {
  return tables.finishes.filter(({ id }) => id === finish);
}

/** What a step uses up; null where that is nothing. */
export function paintOf(
  { paint }: FinishRow,
  { tables }: Pick<PricingInput, "tables">,
): PaintRow | null {
  return tables.paints.find(({ id }) => id === paint) ?? null;
}

/** Whether something stays on the part, that has to be sprayed or brushed, and dries. */
export function isCoat(step: FinishRow, input: Pick<PricingInput, "tables">): boolean {
  return paintOf(step, input)?.kind === "paint";
}

export function stepId({ id, step }: FinishRow): string {
  return `finish.${slug(id)}.${slug(step)}`;
}

/** All coats of a step on all copies of a part. */
export function stepCoats(ledger: Ledger, step: FinishRow, part: Part): string {
  const { sheet } = ledger;
  const id = `${stepId(step)}.part.${slug(part.name)}`;
  if (sheet.has(id)) return id;
  const once = areaOnce(ledger, part, step.faces, step.edges);
  const label = `${part.name}, ${step.step}: area of all coats`;
  return sheet.derived(id, label, "m2", "product", [once, coatsOf(ledger, step)]);
}

function coatsOf({ sheet }: Ledger, step: FinishRow): string {
  const label = `${step.id}, ${step.step}: coats`;
  return givenOnce(sheet, `${stepId(step)}.coats`, label, "pcs", step.coats, cell(step, "coats"));
}

/** Area of all copies of a part once over: none, 1 or 2 faces, with or without its edges. */
function areaOnce(ledger: Ledger, part: Part, faces: FinishRow["faces"], edges: boolean): string {
  const { sheet } = ledger;
  const id = partId(part.name, `area-${faces}${edges ? "-edges" : ""}`);
  if (sheet.has(id)) return id;
  const of = (what: string): string => partId(part.name, what);
  const one = [
    ...(faces === "none" ? [] : [of(faces === "both" ? "faces" : "face")]),
    ...(edges ? [of("edge")] : []),
  ];
  const what = [FACES[faces], ...(edges ? ["edges"] : [])].filter((word) => word !== "");
  const label = `${part.name}, ${what.join(" and ")}`;
  sheet.derived(`${id}-each`, `${label}, one copy`, "m2", "sum", one);
  return sheet.derived(id, `${label}, all copies`, "m2", "product", [
    `${id}-each`,
    madeId(ledger, part.name),
  ]);
}

const FACES = { both: "both faces", front: "front", none: "" } as const;

/**
 * Painted beside a part by all coats of a step: a strip along its outline and holes, as wide as the
 * method's row says, at each face. So what is lost grows as parts get smaller or more lacy: transfer
 * depends on the size and shape of the part (finishing trade article; no width is published).
 */
export function pastOutline(
  ledger: Ledger,
  step: FinishRow,
  part: Part,
  method: MethodRow & { readonly pastMm: Spread },
): string {
  const { sheet } = ledger;
  const width = givenOnce(
    sheet,
    `method.${slug(method.id)}.past`,
    `${method.description}, painted past the outline`,
    "mm",
    method.pastMm.likely,
    cell(method, "past_mm"),
    spreadOf(method.pastMm),
  );
  const strip = partId(part.name, `past-${slug(method.id)}`);
  const label = `${part.name}, painted past the outline`;
  if (!sheet.has(strip)) {
    const inputs = [partId(part.name, "cut-length"), width];
    sheet.derived(strip, `${label}, one face`, "m2", "lines to area", inputs);
  }
  const faces = step.faces === "both" ? twice(ledger, strip, label) : strip;
  const inputs = [faces, madeId(ledger, part.name), coatsOf(ledger, step)];
  const id = `${stepId(step)}.part.${slug(part.name)}.past`;
  return sheet.derived(id, `${label}, ${step.step}: all coats`, "m2", "product", inputs);
}

function twice({ sheet }: Ledger, strip: string, label: string): string {
  const id = `${strip}-both`;
  if (sheet.has(id)) return id;
  return sheet.derived(id, `${label}, both faces`, "m2", "sum", [strip, strip]);
}
