import { eitherOf, mendName, spelling } from "../names.ts";
import { lengthText, parseLength, sameThickness } from "../units.ts";
import type { Tables } from "./types.ts";

/** Whether a material and thickness are among the sheets sold; either may be left out, as "". */
export function stockFault(
  { material, thickness }: { readonly material: string; readonly thickness: string },
  { sheets }: Pick<Tables, "sheets">,
): string | null {
  const materials = [...new Set(sheets.map((sheet) => sheet.material))];
  const known = material === "" ? null : spelling(material, materials);
  if (material !== "" && known === null)
    return `no sheet is sold of "${material}". ${mendName(material, materials, `take one of ${eitherOf(materials, materials.length)}`)}.`;
  if (thickness === "") return null;
  const mm = parseLength(thickness);
  if (mm === null)
    return `--thickness takes a length such as 3, 3 mm or 1/8 in, not "${thickness}"`;
  const offered = sheets.filter((sheet) => known === null || sheet.material === known);
  if (offered.some((sheet) => sameThickness(sheet.thicknessMm, mm))) return null;
  const sold = [...new Set(offered.map((sheet) => sheet.thicknessMm))].sort((a, b) => a - b);
  return `no sheet ${known === null ? "" : `of ${known} `}is ${lengthText(mm)} thick: take ${eitherOf(sold.map(lengthText), sold.length)}`;
}
