import { partsOnSheet, rowCount, sheetRows, sizeRows } from "./rows.ts";
import { PANELS, selectedPart } from "./state.ts";
import type { PanelName, State } from "./state.ts";
import { bodyRows, scrollLimit } from "./views/reading.ts";
import { whyRows } from "./why.ts";

/** Where the cursor goes: in lists, texts and trees, and from panel to panel. */

export function move(state: State, by: number): State {
  const { overlay } = state;
  if (overlay && "scroll" in overlay) {
    const scroll = clamp(overlay.scroll + by, scrollLimit(state));
    return { ...state, overlay: { ...overlay, scroll } };
  }
  if (overlay?.kind === "why") {
    const count = state.estimate
      ? whyRows(state.estimate, overlay.roots, overlay.unfolded).length
      : 0;
    return { ...state, overlay: { ...overlay, cursor: clamp(overlay.cursor + by, count - 1) } };
  }
  const list = state.job === null ? "start" : state.panel;
  const count = list === "start" ? (state.jobs?.length ?? 0) : countRows(state, list);
  return withCursor(state, list, clamp(state.cursors[list] + by, count - 1));
}

/** A page keeps one line in sight. */
export function movePage(state: State, direction: 1 | -1): State {
  return move(state, direction * Math.max(1, bodyRows(state.size) - 2));
}

export function walk(state: State, by: number): State {
  const index = PANELS.indexOf(state.panel) + by;
  return show(state, PANELS[(index + PANELS.length) % PANELS.length] ?? "parts");
}

export function show(state: State, panel: PanelName): State {
  return { ...state, panel, beside: panel === "parts" ? state.beside : panel };
}

/** The part highlighted on the sheet is the part under the cursor of the parts. */
export function highlight(state: State, by: number): State {
  const { estimate, cursors } = state;
  const row = estimate && sheetRows(estimate)[cursors.sheets];
  if (!estimate || !row) return state;
  const names = partsOnSheet(estimate, row.sheet).map(({ part }) => part);
  const now = names.indexOf(selectedPart(state) ?? "");
  const next = now < 0 ? 0 : (now + by + names.length) % names.length;
  const parts = estimate.parts.findIndex(({ name }) => name === names[next]);
  return parts < 0 ? state : withCursor(state, "parts", parts);
}

/** The part highlighted on the sheet under the cursor, or null when none of its parts is. */
export function partOnSheet(state: State): string | null {
  const { estimate, cursors } = state;
  const row = estimate && sheetRows(estimate)[cursors.sheets];
  const part = selectedPart(state);
  return row?.sheet.placements.some((placement) => placement.part === part) ? part : null;
}

/** From a size tried to the first of the sheets chosen for the same stock. */
export function showSheets(state: State): State {
  const { estimate, cursors } = state;
  const size = estimate && sizeRows(estimate)[cursors.sizes];
  if (!estimate || !size) return state;
  const first = sheetRows(estimate).findIndex(({ stock }) => stock === size.stock);
  return show(withCursor(state, "sheets", Math.max(0, first)), "sheets");
}

function withCursor(state: State, list: PanelName | "start", cursor: number): State {
  return { ...state, cursors: { ...state.cursors, [list]: cursor } };
}

function countRows({ estimate }: State, panel: PanelName): number {
  return estimate ? rowCount(estimate, panel) : 0;
}

function clamp(value: number, most: number): number {
  return Math.max(0, Math.min(value, most));
}
