import type { Command, CommandId } from "./keys.ts";
import { partsOnSheet, questionAt, rowCount, sheetRows } from "./rows.ts";
import {
  PANELS,
  contextOf,
  hasUnsaved,
  quantityOf,
  sameQuantities,
  selectedPart,
} from "./state.ts";
import type { Overlay, PanelName, Quantities, State } from "./state.ts";
import { bodyRows, scrollLimit } from "./views/reading.ts";

/** What each command does to the state. */

const MOST = 99_999;

export function runCommand(state: State, id: CommandId): State {
  const reason = disabledReason(state, id);
  if (reason !== null) return { ...state, notice: { text: reason, tone: "caution" } };
  return EFFECTS[id](state);
}

/** Why a command can not run now, for the person; null when it can. */
export function disabledReason(state: State, id: CommandId): string | null {
  return REASONS[id]?.(state) ?? null;
}

/** Whether the footer should offer it. */
export function offered(state: State, { id, contexts, label }: Command): boolean {
  return label !== "" && contexts.includes(contextOf(state)) && disabledReason(state, id) === null;
}

const NO_PARTS = "There are no parts yet";

/** Commands that can not always run. */
const REASONS: Partial<Record<CommandId, (state: State) => string | null>> = {
  quantity: (state) => (selectedPart(state) === null ? NO_PARTS : null),
  more: (state) => (selectedPart(state) === null ? NO_PARTS : null),
  fewer: (state) => {
    const part = selectedPart(state);
    if (part === null) return NO_PARTS;
    if ((quantityOf(state, part) ?? 1) > 1) return null;
    return "One is the least; a part not wanted is taken out of the parts list";
  },
  why: (state) => (questionAt(state)?.figures.length ? null : "There is no figure here to explain"),
  undo: ({ past }) => (past.length ? null : "No change to take back"),
  redo: ({ future }) => (future.length ? null : "No change to make again"),
  export: exportReason,
  choose: ({ jobs }) =>
    jobs?.length ? null : "No job was found below this folder: o opens one by its path",
  reload: ({ path }) => (path === null ? "No job is open: o opens one" : null),
  notes: (state) => (hasNotes(state) ? null : "There are no problems, warnings or cautions"),
};

function exportReason({ exporting, estimate, freshness, running }: State): string | null {
  if (exporting) return "The quote is being written already";
  if (running) return "The estimate is still being worked out; Ctrl-C ends it with the best so far";
  if (!estimate) return "There is no estimate to export";
  return freshness === "current"
    ? null
    : "The figures are stale: p says why, r reads the job again";
}

function hasNotes({ problems, openProblems, estimate }: State): boolean {
  return (
    problems.length + openProblems.length > 0 ||
    (estimate !== null && estimate.warnings.length + estimate.cautions.length > 0)
  );
}

const EFFECTS: Readonly<Record<CommandId, (state: State) => State>> = {
  up: (state) => move(state, -1),
  down: (state) => move(state, 1),
  "page up": (state) => move(state, 2 - bodyRows(state.size)),
  "page down": (state) => move(state, bodyRows(state.size) - 2),
  first: (state) => move(state, -Infinity),
  last: (state) => move(state, Infinity),
  "next panel": (state) => walk(state, 1),
  "previous panel": (state) => walk(state, -1),
  "panel 1": (state) => show(state, "parts"),
  "panel 2": (state) => show(state, "sheets"),
  "panel 3": (state) => show(state, "time"),
  "panel 4": (state) => show(state, "price"),
  "next part": (state) => highlight(state, 1),
  "previous part": (state) => highlight(state, -1),
  quantity: (state) => over(state, { kind: "quantity", part: selectedPart(state) ?? "", text: "" }),
  more: (state) => step(state, 1),
  fewer: (state) => step(state, -1),
  why: (state) => {
    const { title, figures } = questionAt(state) ?? { title: "", figures: [] };
    return over(state, { kind: "why", title, figures, lines: null, scroll: 0 });
  },
  undo: (state) =>
    travel(state, state.past.at(-1) ?? {}, state.past.slice(0, -1), [
      state.quantities,
      ...state.future,
    ]),
  redo: (state) =>
    travel(state, state.future[0] ?? {}, [...state.past, state.quantities], state.future.slice(1)),
  export: (state) => ({
    ...state,
    overlay: null,
    exporting: state.estimate && { estimate: state.estimate, quantities: state.quantities },
  }),
  choose: (state) => open(state, state.jobs?.[state.cursors.start] ?? ""),
  open: (state) => over(state, { kind: "path", text: "" }),
  reload: (state) => open(state, state.path ?? ""),
  notes: (state) => over(state, { kind: "notes", scroll: 0 }),
  help: (state) => over(state, { kind: "help", scroll: 0 }),
  back: (state) => over(state, null),
  close: (state) => over(state, null),
  stay: (state) => over(state, null),
  accept,
  erase: (state) =>
    retype(state, (text) =>
      [...graphemes.segment(text)]
        .slice(0, -1)
        .map(({ segment }) => segment)
        .join(""),
    ),
  clear: (state) => retype(state, () => ""),
  leave: (state) =>
    hasUnsaved(state) ? over(state, { kind: "leaving" }) : { ...state, left: true },
  "leave now": (state) => ({ ...state, left: true }),
  interrupt,
};

const graphemes = new Intl.Segmenter("en", { granularity: "grapheme" });

function over(state: State, overlay: Overlay | null): State {
  return { ...state, overlay };
}

function move(state: State, by: number): State {
  const { overlay } = state;
  if (overlay && "scroll" in overlay) {
    const scroll = clamp(overlay.scroll + by, scrollLimit(state));
    return over(state, { ...overlay, scroll });
  }
  const list = state.job === null ? "start" : state.panel;
  const count = list === "start" ? (state.jobs?.length ?? 0) : countRows(state, list);
  const cursor = clamp(state.cursors[list] + by, count - 1);
  return { ...state, cursors: { ...state.cursors, [list]: cursor } };
}

function countRows({ estimate }: State, panel: PanelName): number {
  return estimate ? rowCount(estimate, panel) : 0;
}

function walk(state: State, by: number): State {
  const index = PANELS.indexOf(state.panel) + by;
  return show(state, PANELS[(index + PANELS.length) % PANELS.length] ?? "parts");
}

function show(state: State, panel: PanelName): State {
  return { ...state, panel, beside: panel === "parts" ? state.beside : panel };
}

/** The part highlighted on the sheet is the part under the cursor of the parts. */
function highlight(state: State, by: number): State {
  const { estimate, cursors } = state;
  const row = estimate && sheetRows(estimate)[cursors.sheets];
  if (!estimate || !row) return state;
  const names = partsOnSheet(estimate, row.sheet).map(({ part }) => part);
  const now = names.indexOf(selectedPart(state) ?? "");
  const next = now < 0 ? 0 : (now + by + names.length) % names.length;
  const parts = estimate.parts.findIndex(({ name }) => name === names[next]);
  return parts < 0 ? state : { ...state, cursors: { ...cursors, parts } };
}

function step(state: State, by: number): State {
  const part = selectedPart(state) ?? "";
  return setQuantity(state, part, (quantityOf(state, part) ?? 1) + by);
}

function setQuantity(state: State, part: string, quantity: number): State {
  const { [part]: _, ...others } = state.quantities;
  const wanted = clamp(quantity - 1, MOST - 1) + 1;
  const quantities = wanted === state.listed[part] ? others : { ...others, [part]: wanted };
  if (sameQuantities(quantities, state.quantities)) return state;
  return travel(state, quantities, [...state.past, state.quantities], []);
}

/** Other quantities, and a new estimate for them. */
function travel(
  state: State,
  quantities: Quantities,
  past: readonly Quantities[],
  future: readonly Quantities[],
): State {
  return estimateAnew({ ...state, quantities, past, future });
}

/** Asks for an estimate of what is on screen; an older one still running counts no more. */
export function estimateAnew(state: State): State {
  const { job, quantities, run } = state;
  if (!job) return state;
  return {
    ...state,
    run: run + 1,
    asked: { ...job.input, quantities: { ...job.input.quantities, ...quantities } },
    running: { stage: "starting", done: 0, of: 0, elapsedS: 0, finishing: false },
    freshness: "stale",
    problems: [],
  };
}

function open(state: State, path: string): State {
  const requests = state.requests + 1;
  return {
    ...state,
    overlay: null,
    path,
    requests,
    opening: { request: requests, path },
    openProblems: [],
  };
}

function retype(state: State, change: (text: string) => string): State {
  const { overlay } = state;
  return overlay && "text" in overlay
    ? over(state, { ...overlay, text: change(overlay.text) })
    : state;
}

/** Typed or pasted text at the end of the field; control characters have no place in one. */
export function typeText(state: State, text: string): State {
  return retype(state, (before) => before + text.replace(/\p{Cc}/gu, ""));
}

function accept(state: State): State {
  const { overlay } = state;
  if (overlay?.kind === "path") {
    const path = overlay.text.trim();
    return path === "" ? over(state, null) : open(state, path);
  }
  if (overlay?.kind !== "quantity") return state;
  const text = overlay.text.trim();
  if (text === "") return over(state, null);
  const quantity = Number(text);
  if (/^\d+$/.test(text) && quantity >= 1 && quantity <= MOST)
    return setQuantity(over(state, null), overlay.part, quantity);
  const notice = { text: `Expected a whole number from 1 to ${MOST}`, tone: "problem" } as const;
  return { ...state, notice };
}

function interrupt(state: State): State {
  const { running, interrupted } = state;
  if (interrupted || running?.finishing) return { ...state, left: true };
  if (running) {
    const text = "Finishing with the best so far; Ctrl-C again leaves";
    return {
      ...state,
      running: { ...running, finishing: true },
      notice: { text, tone: "caution" },
    };
  }
  const text = hasUnsaved(state)
    ? "Changed quantities were not exported; Ctrl-C again leaves all the same"
    : "Ctrl-C again leaves";
  return { ...state, interrupted: true, notice: { text, tone: "caution" } };
}

function clamp(value: number, most: number): number {
  return Math.max(0, Math.min(value, most));
}
