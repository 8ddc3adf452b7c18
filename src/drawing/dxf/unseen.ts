import { warningAt } from "../../problem.ts";
import type { Problem } from "../../problem.ts";
import { excerpt } from "../fault.ts";
import type { Hidden } from "./layers.ts";

/** Why something drawn is not seen where the drawing is seen. */
export type Unseen = Exclude<Hidden, null> | "in paper space" | "invisible";

const MENDS: Readonly<Record<Unseen, string>> = {
  off: "Turn the layer on if it is to be worked",
  frozen: "Thaw the layer if it is to be worked",
  "not plotted":
    "Name the layer in the parts list (file.dxf#LAYER), or have it plotted, if it is to be worked",
  "in paper space": "Move it to model space if it is to be worked",
  invisible: "Make it visible if it is to be worked",
};

/** Counts what is not seen, by reason and layer. */
export class UnseenLines {
  readonly #kinds = new Map<
    string,
    { readonly why: Unseen; readonly layer: string; readonly line: number; count: number }
  >();

  add(why: Unseen, layer: string, line: number): void {
    const key = JSON.stringify([why, layer]);
    const kind = this.#kinds.get(key) ?? { why, layer, line, count: 0 };
    this.#kinds.set(key, kind);
    kind.count++;
  }

  problems(file: string): Problem[] {
    return [...this.#kinds.values()].map(({ why, layer, line, count }) => {
      const isLayer = why === "off" || why === "frozen" || why === "not plotted";
      const place = { file, line, column: layer };
      const what = count === 1 ? "an entity" : `${count} entities`;
      return warningAt(place, {
        code: "dxf-hidden",
        found: isLayer ? `${what} on layer ${excerpt(layer)}, which is ${why}` : `${what}, ${why}`,
        expected: `what is seen in the drawing; ${count === 1 ? "this is" : "these are"} left out`,
        mend: MENDS[why],
      });
    });
  }
}
