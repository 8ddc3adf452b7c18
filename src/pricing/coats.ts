import type { FinishRow, PaintKind } from "../job/types.ts";
import { counted } from "../names.ts";

/** Coats of paint in words. */

export interface Coat extends Pick<FinishRow, "coats" | "faces" | "edges"> {
  /** Of what is used; null where nothing is. */
  readonly kind: PaintKind | null;
}

/** A coat of one paint on the parts of one finish. */
export interface CoatUse extends Coat {
  readonly parts: readonly string[];
}

/** `2 coats on front, back and edges`; of what is no paint `once over front and edges`. */
export function coatText({ coats, faces, edges, kind }: Coat): string {
  const sides = { both: ["front", "back"], front: ["front"], none: [] }[faces];
  const last = edges ? "edges" : sides.pop();
  const where = sides.length === 0 ? `the ${last}` : `${sides.join(", ")} and ${last}`;
  if (kind === "paint") return `${counted(coats, "coat")} on ${where}`;
  return `${["", "once", "twice"][coats] ?? `${coats} times`} over ${where}`;
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
