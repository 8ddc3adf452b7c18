import { vi } from "vitest";
import { reduce } from "../../src/tui/reduce.ts";
import type { Action } from "../../src/tui/reduce.ts";
import { initialState } from "../../src/tui/state.ts";
import type { Size, State } from "../../src/tui/state.ts";
import type { Line } from "../../src/tui/line.ts";
import { fixtureEstimate, openedJob } from "./fixture.ts";

/** Words for telling a test as a sequence of steps. */

export const SMALL: Size = { columns: 80, rows: 24 };
export const LARGE: Size = { columns: 140, rows: 45 };

export function after(state: State, ...actions: readonly Action[]): State {
  return actions.reduce(reduce, state);
}

export function press(state: State, ...keys: readonly string[]): State {
  return after(state, ...keys.map((key) => ({ kind: "key", key }) as const));
}

/** A job that is open and estimated. */
export function readyState(size: Size = SMALL): State {
  return after(
    initialState(size, "jobs/marsh-test"),
    { kind: "opened", request: 1, result: { value: openedJob(), problems: [] } },
    { kind: "estimated", run: 1, result: { value: fixtureEstimate(), problems: [] } },
  );
}

/** An answer for the estimate asked for last. */
export function answered(state: State): State {
  const value = fixtureEstimate(state.changes.quantities, state.changes.pieces ?? undefined);
  return after(state, { kind: "estimated", run: state.run, result: { value, problems: [] } });
}

export function textOf(lines: readonly Line[]): readonly string[] {
  return lines.map((line) => line.map(({ text }) => text).join(""));
}

/** Waits for a check to hold: as short as may be, and long enough for a busy machine. */
export async function soon(check: () => void): Promise<void> {
  await vi.waitFor(check, { interval: 5, timeout: 8000 });
}
