import type { Part } from "../job/types.ts";
import type { Problem } from "../problem.ts";
import { LASER_CAUTIONS, NEVER_LASER } from "./laser-materials.ts";
import type { MaterialRule } from "./laser-materials.ts";

/** Which materials may be laser cut, judged by the words of their names. */

/**
 * Problem `never-laser` for each part whose material must not meet a beam. In doubt it refuses: a
 * person can give a harmless material another name, but can not take back a fire.
 */
export function refuseUnsafe(
  parts: readonly Pick<Part, "material" | "place">[],
): readonly Problem[] {
  return parts.flatMap(({ material, place }) => {
    const rule = neverLaser(material);
    return rule === null ? [] : [refusal(material, place, rule)];
  });
}

/** The first rule that forbids the material, or null. */
export function neverLaser(material: string): MaterialRule | null {
  return NEVER_LASER.find(({ words }) => says(material, words)) ?? null;
}

/** What to mind with a material that may be cut. */
export function careWith(material: string): readonly MaterialRule[] {
  return LASER_CAUTIONS.filter(({ words }) => says(material, words));
}

/** Whether the name says these words, and not that they are absent: `PVC-free`, `non-vinyl`. */
export function says(material: string, words: RegExp): boolean {
  const plain = plainName(material);
  for (const match of plain.matchAll(new RegExp(words, "g"))) {
    const before = plain.slice(0, match.index);
    const behind = plain.slice(match.index + match[0].length);
    if (!DENIED_BEFORE.test(before) && !DENIED_BEHIND.test(behind)) return true;
  }
  return false;
}

function refusal(material: string, place: Part["place"], rule: MaterialRule): Problem {
  return {
    ...place,
    column: "material",
    code: "never-laser",
    severity: "error",
    found: material,
    expected: `a material that may be laser cut, which ${rule.what} never may`,
    mend: `Choose another material, or have it cut by other means: ${rule.reason} (${rule.source})`,
  };
}

const DENIED_BEFORE = /\b(?:non|no|not|without) $/;
/** `PVC free foam` is a foam of PVC, freely foamed. */
const DENIED_BEHIND = /^ free\b(?! foam)/;

/** `Hard-PVC_3mm` as `hard pvc 3 mm`. */
function plainName(material: string): string {
  return material
    .normalize("NFKC")
    .replace(/(\p{Ll})(\p{Lu})/gu, "$1 $2")
    .toLowerCase()
    .replace(/(\d)(\p{L})|(\p{L})(?=\d)/gu, "$1$3 $2")
    .replace(/(\d mm)(?=\p{L})/gu, "$1 ")
    .replace(/[^\p{L}\d]+/gu, " ")
    .trim();
}
