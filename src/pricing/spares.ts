import type { FigureSheet } from "../figure.ts";
import { valueOf } from "../formulas.ts";
import type { Job, Part, Tables } from "../job/types.ts";
import { Amount } from "../money.ts";
import { inColumn } from "../problem.ts";
import type { Place } from "../problem.ts";
import { settingOf } from "./build-up.ts";
import { givenOnce, jobCell, settingSource } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import type { PricingInput } from "./types.ts";

/**
 * Copies that are made on top because some will be spoilt. They are nested, cut, painted and worked
 * on like the others; fixings, assembly and the customer's quantity do not count them.
 */

/** Of one part. */
export interface SpareRule {
  /** `percent` of its copies, rounded up to whole ones. */
  readonly by: "copies" | "percent";
  readonly value: Amount;
  /** The cell, or the setting where the part says nothing. */
  readonly place: Place;
}

/** The part's own rule, else that of the job or the tables; null for none. */
export function spareRule(
  part: Part,
  from: { readonly job: Job; readonly tables: Tables },
): SpareRule | null {
  if (part.spare !== null) {
    const { by, number } = part.spare;
    const place = inColumn(part.place, "spare");
    return number === 0 ? null : { by, value: new Amount(number), place };
  }
  const setting = settingOf(from, "spoilage_percent");
  if (setting === null || setting.value.isZero()) return null;
  return { by: "percent", value: setting.value, place: setting.place };
}

/** How many are made on top of so many copies: the same formulas as in the figures. */
export function spareCopies(copies: number, rule: SpareRule | null): number {
  if (rule === null) return 0;
  if (rule.by === "copies") return rule.value.toNumber();
  const exact = valueOf("percentage", [new Amount(copies), rule.value]);
  return valueOf("rounded up", [exact]).toNumber();
}

/** @param id of the part's figures, of which `copies` is there. */
export function addSpares(
  { sheet }: Pick<Ledger, "sheet">,
  input: PricingInput,
  { part, spare }: PricingInput["parts"][number],
  id: (what: string) => string,
): void {
  if (spare === null) return;
  if (spare.by === "copies")
    sheet.given(
      id("spare"),
      `${part.name}, spare copies`,
      "pcs",
      spare.value,
      jobCell(spare.place, "spare"),
    );
  else {
    const percent = addPercent(sheet, input, part, spare, id);
    const exact = sheet.derived(
      id("spoilt"),
      `${part.name}, copies that may be spoilt`,
      "pcs",
      "percentage",
      [id("copies"), percent],
    );
    const because = "copies are made whole";
    sheet.derived(id("spare"), `${part.name}, spare copies`, "pcs", "rounded up", [exact], because);
  }
  const made = `${part.name}, copies to make with spares`;
  sheet.derived(id("made"), made, "pcs", "sum", [id("copies"), id("spare")]);
}

function addPercent(
  sheet: FigureSheet,
  input: PricingInput,
  { name, spare: own }: Part,
  { value, place }: SpareRule,
  id: (what: string) => string,
): string {
  const setting = settingOf(input, "spoilage_percent");
  if (own !== null || setting === null)
    return sheet.given(
      id("spoilage"),
      `${name}, spare copies in percent`,
      "percent",
      value,
      jobCell(place, "spare"),
    );
  return givenOnce(
    sheet,
    "rule.spoilage",
    "spare copies of each part",
    "percent",
    value,
    settingSource(setting),
  );
}
