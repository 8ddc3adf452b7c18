import { eitherOf, mendName, sameText, spelling } from "../names.ts";
import { lengthText, parseLength, sameThickness } from "../units.ts";
import type { Tables } from "./types.ts";

/** What the sheets sold are made of, and how thick they are. */

type Sold = Pick<Tables, "sheets">;

export function materialsOf({ sheets }: Sold): readonly string[] {
  return [...new Set(sheets.map(({ material }) => material))];
}

/** Upwards, mm; of every material for null. */
export function thicknessesOf(material: string | null, { sheets }: Sold): readonly number[] {
  const rows = sheets.filter((sheet) => material === null || sameText(sheet.material, material));
  return [...new Set(rows.map(({ thicknessMm }) => thicknessMm))].toSorted((a, b) => a - b);
}

/** Why a material and thickness are not among the sheets sold, or null; either may be left out, as "". */
export function stockFault(
  { material, thickness }: { readonly material: string; readonly thickness: string },
  tables: Sold,
): string | null {
  const materials = materialsOf(tables);
  const known = material === "" ? null : spelling(material, materials);
  if (material !== "" && known === null)
    return `no sheet is sold of "${material}". ${mendName(material, materials, `take one of ${eitherOf(materials, materials.length)}`)}.`;
  if (thickness === "") return null;
  const mm = parseLength(thickness);
  if (mm === null)
    return `--thickness takes a length such as 3, 3 mm or 1/8 in, not "${thickness}"`;
  const sold = thicknessesOf(known, tables);
  if (sold.some((one) => sameThickness(one, mm))) return null;
  return `no sheet ${known === null ? "" : `of ${known} `}is ${lengthText(mm)} thick: take ${eitherOf(sold.map(lengthText), sold.length)}`;
}
