import type { FinishRow } from "../job/types.ts";
import { counted } from "../names.ts";

/** Coats of paint in words. */

export type Coat = Pick<FinishRow, "coats" | "faces" | "edges">;

/** A coat of one paint on the parts of one finish. */
export interface CoatUse extends Coat {
  readonly parts: readonly string[];
}

/** `2 coats on front, back and edges`. */
export function coatText({ coats, faces, edges }: Coat): string {
  const sides = faces === "both" ? ["front", "back"] : ["front"];
  const last = edges ? "edges" : sides.pop();
  const on = sides.length === 0 ? "the front" : `${sides.join(", ")} and ${last}`;
  return `${counted(coats, "coat")} on ${on}`;
}

/** `1 coat on front and back of wing, cap; 2 coats on front and edges of board`. */
export function coatUsesText(uses: readonly CoatUse[]): string {
  const texts = new Map<string, string[]>();
  for (const use of summed(uses)) {
    const text = coatText(use);
    texts.set(text, [...(texts.get(text) ?? []), ...use.parts]);
  }
  return [...texts].map(([text, parts]) => `${text} of ${parts.join(", ")}`).join("; ");
}

/** Steps of a finish that put the same paint on the same sides are one number of coats. */
function summed(uses: readonly CoatUse[]): readonly CoatUse[] {
  const sums = new Map<string, CoatUse>();
  for (const use of uses) {
    const key = [use.faces, use.edges, ...use.parts].join("\n");
    sums.set(key, { ...use, coats: use.coats + (sums.get(key)?.coats ?? 0) });
  }
  return [...sums.values()];
}
