import type { Overlay, State } from "./state.ts";
import { parentOf, whyRows } from "./why.ts";
import type { WhyRow } from "./why.ts";

/** Unfolding and folding the tree under a figure. */

type Why = Extract<Overlay, { readonly kind: "why" }>;

export function turn(state: State): State {
  return atRow(state, (why, row) => withFold(why, row.path, row.unfolded === false));
}

/** What is unfolded already lets the cursor in. */
export function unfold(state: State): State {
  return atRow(state, (why, row) =>
    row.unfolded ? { ...why, cursor: why.cursor + 1 } : withFold(why, row.path, true),
  );
}

/** What is folded already takes the cursor to the figure above it. */
export function fold(state: State): State {
  return atRow(state, (why, row, rows) => {
    if (row.unfolded) return withFold(why, row.path, false);
    const above = rows.findIndex(({ path }) => path === parentOf(row.path));
    return above < 0 ? why : { ...why, cursor: above };
  });
}

/** Given figures have nothing to unfold. */
function withFold(why: Why, path: string, open: boolean): Why {
  const unfolded = new Set(why.unfolded);
  if (open) unfolded.add(path);
  else unfolded.delete(path);
  return { ...why, unfolded };
}

function atRow(
  state: State,
  change: (why: Why, row: WhyRow, rows: readonly WhyRow[]) => Why,
): State {
  const { overlay, estimate } = state;
  if (overlay?.kind !== "why" || !estimate) return state;
  const rows = whyRows(estimate, overlay.roots, overlay.unfolded);
  const row = rows[overlay.cursor];
  return row ? { ...state, overlay: change(overlay, row, rows) } : state;
}
