import { MM2_PER_M2 } from "../units.ts";
import { jobCell, slug } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { addSpares } from "./spares.ts";
import type { MeasuredPart, PricingInput } from "./types.ts";

/**
 * Quantities and measures that later figures stand on: pieces commissioned, copies of each part,
 * its face, its edge, its holes.
 */
export function addParts(ledger: Ledger, input: PricingInput): void {
  const { job, parts } = input;
  ledger.sheet.given(
    "job.pieces",
    `${job.pieceName}s commissioned`,
    "pcs",
    job.pieces,
    jobCell(job.piecesPlace, "pieces"),
  );
  for (const measured of parts) addPart(ledger, input, measured);
}

/** `part.heron-left.copies` and its like. */
export function partId(name: string, what: string): string {
  return `part.${slug(name)}.${what}`;
}

/** The figure of all copies that are made, spares among them. */
export function madeId({ sheet }: Ledger, name: string): string {
  const made = partId(name, "made");
  return sheet.has(made) ? made : partId(name, "copies");
}

function addPart(ledger: Ledger, input: PricingInput, one: MeasuredPart): void {
  const { sheet } = ledger;
  const { part, geometry } = one;
  const id = (what: string): string => partId(part.name, what);
  const measured = (what: string) => ({ kind: "measured", place: geometry.place, what }) as const;
  sheet.given(id("each"), `${part.name} in each piece`, "pcs", part.quantity, {
    kind: "cell",
    place: part.quantityPlace ?? { ...part.place, column: "qty" },
    cited: null,
  });
  sheet.derived(id("copies"), `${part.name}, copies in all`, "pcs", "product", [
    id("each"),
    "job.pieces",
  ]);
  addSpares(ledger, input, one, id);
  sheet.given(
    id("face"),
    `${part.name}, one face`,
    "m2",
    geometry.areaMm2 / MM2_PER_M2,
    measured("area inside the outline less its holes, from the curves"),
  );
  sheet.given(
    id("cut-length"),
    `${part.name}, outline and holes`,
    "m",
    geometry.cutLengthMm / 1000,
    measured("length of outline and holes, from the curves"),
  );
  sheet.given(
    id("thickness"),
    `${part.name}, thickness`,
    "m",
    part.thicknessMm / 1000,
    jobCell(part.place, "thickness"),
  );
  sheet.derived(id("edge"), `${part.name}, edges`, "m2", "product", [
    id("cut-length"),
    id("thickness"),
  ]);
  sheet.derived(id("faces"), `${part.name}, both faces`, "m2", "sum", [id("face"), id("face")]);
  sheet.given(
    id("holes"),
    `${part.name}, round holes in one copy`,
    "pcs",
    geometry.roundHoles.length,
    measured("holes that are circles within 0.05 mm"),
  );
}
