import { hasUnsaved, isChanged, piecesOf, quantityOf } from "./changes.ts";
import { redo, step, undo } from "./changing.ts";
import { accept, clear, erase } from "./fields.ts";
import { fold, turn, unfold } from "./folding.ts";
import type { Command, CommandId } from "./keys.ts";
import { highlight, move, movePage, partOnSheet, show, showSheets, walk } from "./moving.ts";
import { openJob } from "./opening.ts";
import { questionAt } from "./rows.ts";
import { contextOf, selectedPart } from "./state.ts";
import type { Overlay, State } from "./state.ts";
import { firstUnfolded } from "./why.ts";

/** What each command does to the state. */

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
  if (label === "" || !contexts.includes(contextOf(state))) return false;
  if (id === "interrupt")
    return state.running !== null && !state.running.finishing && state.overlay === null;
  return disabledReason(state, id) === null;
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
  pieces: (state) =>
    piecesOf(state) === null ? "How many are commissioned is not known yet" : null,
  "to part": (state) =>
    partOnSheet(state) === null ? "No part of this sheet is highlighted: n highlights one" : null,
  why: (state) => (questionAt(state)?.figures.length ? null : "There is no figure here to explain"),
  undo: ({ past }) => (past.length ? null : "No change to take back"),
  redo: ({ future }) => (future.length ? null : "No change to make again"),
  export: exportReason,
  save: ({ changes, saving, job }) => {
    if (saving) return "The changed numbers are being saved already";
    return job && isChanged(changes) ? null : "All numbers are as the job's files have them";
  },
  "next part": noSheet,
  "previous part": noSheet,
  choose: ({ jobs, opening }) => {
    if (opening) return `${opening.path} is being opened`;
    return jobs?.length ? null : "No job was found below this folder: o opens one by its path";
  },
  reload: ({ path }) => (path === null ? "No job is open: o opens one" : null),
  notes: (state) => (hasNotes(state) ? null : "There are no problems, warnings or cautions"),
};

function noSheet({ estimate }: State): string | null {
  return estimate?.stocks.length ? null : "There are no sheets yet";
}

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
  "page up": (state) => movePage(state, -1),
  "page down": (state) => movePage(state, 1),
  first: (state) => move(state, -Infinity),
  last: (state) => move(state, Infinity),
  "next panel": (state) => walk(state, 1),
  "previous panel": (state) => walk(state, -1),
  "panel 1": (state) => show(state, "parts"),
  "panel 2": (state) => show(state, "sizes"),
  "panel 3": (state) => show(state, "sheets"),
  "panel 4": (state) => show(state, "time"),
  "panel 5": (state) => show(state, "price"),
  "next part": (state) => highlight(state, 1),
  "previous part": (state) => highlight(state, -1),
  "to part": (state) => show(state, "parts"),
  "to sheets": showSheets,
  quantity: (state) => over(state, { kind: "quantity", part: selectedPart(state) ?? "", text: "" }),
  pieces: (state) => over(state, { kind: "pieces", text: "" }),
  more: (state) => step(state, 1),
  fewer: (state) => step(state, -1),
  why: (state) => {
    const { title, figures } = questionAt(state) ?? { title: "", figures: [] };
    const unfolded = firstUnfolded(figures);
    return over(state, { kind: "why", title, roots: figures, unfolded, cursor: 0 });
  },
  turn,
  unfold,
  fold,
  undo,
  redo,
  export: (state) => ({
    ...state,
    overlay: null,
    exporting: state.estimate && { estimate: state.estimate, changes: state.changes },
  }),
  save: (state) => ({ ...state, overlay: null, saving: state.changes }),
  choose: (state) => openJob(state, state.jobs?.[state.cursors.start] ?? ""),
  open: (state) => over(state, { kind: "path", text: "" }),
  reload: (state) => openJob(state, state.path ?? ""),
  notes: (state) => over(state, { kind: "notes", scroll: 0 }),
  help: (state) => over(state, { kind: "help", scroll: 0 }),
  back: (state) => over(state, null),
  close: (state) => over(state, null),
  stay: (state) => over(state, null),
  accept,
  erase,
  clear,
  leave: (state) =>
    hasUnsaved(state) ? over(state, { kind: "leaving" }) : { ...state, left: true },
  "leave now": (state) => ({ ...state, left: true }),
  interrupt,
};

function over(state: State, overlay: Overlay | null): State {
  return { ...state, overlay };
}

function interrupt(state: State): State {
  const { running, interrupted } = state;
  if (interrupted || running?.finishing) return { ...state, left: true };
  if (running) return { ...state, running: { ...running, finishing: true } };
  const text = hasUnsaved(state)
    ? "Changed numbers are neither saved nor exported; Ctrl-C again leaves all the same"
    : "Ctrl-C again leaves";
  return { ...state, interrupted: true, notice: { text, tone: "caution" } };
}
