import { UNCHANGED, quantityOf, sameChanges, withChanges } from "./changes.ts";
import type { Changes } from "./changes.ts";
import { selectedPart } from "./state.ts";
import type { State } from "./state.ts";

/** Changing numbers, taking changes back, and asking for what they cost. */

/** The most that a field takes; larger orders are caught by the job's own checks. */
export const MOST = 99_999;

/** One more or fewer of the part under the cursor. */
export function step(state: State, by: number): State {
  const part = selectedPart(state) ?? "";
  return setQuantity(state, part, (quantityOf(state, part) ?? 1) + by);
}

export function setQuantity(state: State, part: string, quantity: number): State {
  const { [part]: _, ...others } = state.changes.quantities;
  const wanted = Math.max(1, Math.min(quantity, MOST));
  const isListed = wanted === state.listed.quantities[part];
  const quantities = isListed ? others : { ...others, [part]: wanted };
  return change(state, { ...state.changes, quantities });
}

export function setPieces(state: State, pieces: number): State {
  const isListed = pieces === state.listed.pieces;
  return change(state, { ...state.changes, pieces: isListed ? null : pieces });
}

export function undo(state: State): State {
  const { past, future, changes } = state;
  return travel(state, past.at(-1) ?? UNCHANGED, past.slice(0, -1), [changes, ...future]);
}

export function redo(state: State): State {
  const { past, future, changes } = state;
  return travel(state, future[0] ?? UNCHANGED, [...past, changes], future.slice(1));
}

/** Asks for an estimate of what is on screen; an older one still running counts no more. */
export function estimateAnew(state: State): State {
  const { job, changes, run } = state;
  if (!job) return state;
  return {
    ...state,
    run: run + 1,
    asked: withChanges(job.input, changes),
    running: { stage: "starting", done: 0, of: 0, elapsedS: 0, finishing: false },
    freshness: "stale",
    problems: [],
  };
}

function change(state: State, changes: Changes): State {
  if (sameChanges(changes, state.changes)) return state;
  return travel(state, changes, [...state.past, state.changes], []);
}

/** Other numbers, and a new estimate for them. */
function travel(
  state: State,
  changes: Changes,
  past: readonly Changes[],
  future: readonly Changes[],
): State {
  return estimateAnew({ ...state, changes, past, future });
}
