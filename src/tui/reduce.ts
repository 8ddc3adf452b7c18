import type { Estimate } from "../estimate-data.ts";
import { counted } from "../names.ts";
import { isError } from "../problem.ts";
import type { Checked } from "../problem.ts";
import type { Progress } from "../work.ts";
import { UNCHANGED, changesText, isChanged } from "./changes.ts";
import type { Changes } from "./changes.ts";
import { estimateAnew } from "./changing.ts";
import { runCommand } from "./commands.ts";
import { typeText } from "./fields.ts";
import { commandFor } from "./keys.ts";
import { openJob } from "./opening.ts";
import { rowCount } from "./rows.ts";
import type { ExportOutcome, OpenedJob, SaveOutcome } from "./services.ts";
import { PANELS, contextOf } from "./state.ts";
import type { Exported, Size, State } from "./state.ts";

/** Everything that can happen to the screen: keys, and answers to what it asked for. */
export type Action =
  | { readonly kind: "key"; readonly key: string }
  | { readonly kind: "paste"; readonly text: string }
  | { readonly kind: "resized"; readonly size: Size }
  | { readonly kind: "jobs found"; readonly jobs: readonly string[] }
  | { readonly kind: "opened"; readonly request: number; readonly result: Checked<OpenedJob> }
  | { readonly kind: "progress"; readonly run: number; readonly progress: Progress<Estimate> }
  | { readonly kind: "elapsed"; readonly run: number; readonly seconds: number }
  | { readonly kind: "estimated"; readonly run: number; readonly result: Checked<Estimate> }
  | { readonly kind: "exported"; readonly outcome: ExportOutcome }
  | { readonly kind: "saved"; readonly outcome: SaveOutcome };

/** Pure: the same state and action give the same next state; no clock, no terminal, no file. */
export function reduce(state: State, action: Action): State {
  switch (action.kind) {
    case "key":
      return pressed(state, action.key);
    case "paste":
      return contextOf(state) === "field"
        ? typeText({ ...state, notice: null }, action.text)
        : state;
    case "resized":
      return { ...state, size: action.size };
    case "jobs found":
      return { ...state, jobs: action.jobs };
    case "opened":
      return action.request === state.opening?.request ? opened(state, action.result) : state;
    case "progress":
      return action.run === state.run && state.running ? progressed(state, action.progress) : state;
    case "elapsed":
      return action.run === state.run && state.running
        ? { ...state, running: { ...state.running, elapsedS: action.seconds } }
        : state;
    case "estimated":
      return action.run === state.run && state.running ? estimated(state, action.result) : state;
    case "exported":
      return exported(state, action.outcome);
    case "saved":
      return saved(state, action.outcome);
  }
}

function pressed(before: State, key: string): State {
  const context = contextOf(before);
  const command = commandFor(context, key);
  const quiet = { ...before, notice: null };
  if (command === "interrupt") return runCommand(quiet, command);
  const state = { ...quiet, interrupted: false };
  if (command !== null) return runCommand(state, command);
  const isCharacter = Array.from(key).length === 1;
  return context === "field" && isCharacter ? typeText(state, key) : state;
}

/** The same job read again keeps its changed quantities; another one starts afresh. */
function opened(state: State, { value, problems }: Checked<OpenedJob>): State {
  const settled: State = { ...state, opening: null, openProblems: problems };
  if (value === null) return { ...settled, overlay: { kind: "notes", scroll: 0 } };
  if (value.path === state.job?.path)
    return estimateAnew({ ...settled, job: value, listed: UNCHANGED });
  return estimateAnew({
    ...settled,
    job: value,
    changes: UNCHANGED,
    listed: UNCHANGED,
    past: [],
    future: [],
    estimate: null,
    exported: state.exported && { ...state.exported, changes: UNCHANGED },
    panel: "parts",
    cursors: { ...state.cursors, parts: 0, sizes: 0, sheets: 0, time: 0, price: 0 },
  });
}

function progressed(state: State, { stage, done, of, best }: Progress<Estimate>): State {
  if (!state.running) return state;
  const running = { ...state.running, stage, done, of };
  return best === null
    ? { ...state, running }
    : { ...withEstimate(state, best), running, freshness: "so far" };
}

function estimated(state: State, { value, problems }: Checked<Estimate>): State {
  const settled = { ...state, running: null, notice: lasting(state.notice) };
  if (value !== null)
    return { ...withEstimate(settled, value), freshness: "current", problems: [] };
  const all = problems.some(isError) ? problems : [...problems, NO_ESTIMATE];
  return { ...settled, freshness: "stale", problems: all, overlay: { kind: "notes", scroll: 0 } };
}

/** What was refused or awaited while the work ran says nothing any more. */
function lasting(notice: State["notice"]): State["notice"] {
  return notice?.tone === "good" ? notice : null;
}

const NO_ESTIMATE = {
  code: "no-estimate",
  severity: "error",
  file: "estimate",
  line: null,
  column: null,
  found: "",
  expected: "an estimate or the reason why there is none",
  mend: "Report this as a fault of the program",
} as const;

function withEstimate(state: State, estimate: Estimate): State {
  const cursors = { ...state.cursors };
  for (const panel of PANELS)
    cursors[panel] = Math.max(0, Math.min(cursors[panel], rowCount(estimate, panel) - 1));
  return { ...state, estimate, listed: toldBy(state, estimate), cursors };
}

/** What was not asked to be otherwise is as the job's files have it. */
function toldBy({ asked, listed }: State, estimate: Estimate): State["listed"] {
  const told = estimate.parts.filter(({ name }) => asked?.quantities?.[name] === undefined);
  const quantities = Object.fromEntries(told.map(({ name, quantity }) => [name, quantity]));
  return {
    quantities: { ...listed.quantities, ...quantities },
    pieces: asked?.pieces === undefined ? estimate.pieces : listed.pieces,
  };
}

function exported(state: State, outcome: ExportOutcome): State {
  const { exporting } = state;
  const settled = { ...state, exporting: null };
  if (outcome.kind === "refused" || !exporting) {
    const openProblems = outcome.kind === "refused" ? outcome.problems : [];
    return { ...settled, openProblems, overlay: { kind: "notes", scroll: 0 } };
  }
  const { dir, files } = outcome;
  const { estimate, changes } = exporting;
  const many = counted(files.length, "file");
  const text = isChanged(changes)
    ? `The job's files keep the old numbers, s saves yours. ${many} in ${dir}`
    : `Wrote ${many} to ${dir}: ${files.join(", ")}`;
  const record: Exported = { dir, files, estimate, changes };
  const tone = isChanged(changes) ? "caution" : "good";
  return { ...settled, exported: record, notice: { text, tone } };
}

/** Reads the job again: its files say now what the screen said. */
function saved(state: State, { files, problems }: SaveOutcome): State {
  const { saving, job, exported: before } = state;
  const settled = { ...state, saving: null };
  if (problems.length > 0 || !saving || !job) {
    const text = files.length > 0 ? `Saved in ${files.join(", ")} only` : "";
    const notice = text === "" ? null : ({ text, tone: "problem" } as const);
    return { ...settled, notice, openProblems: problems, overlay: { kind: "notes", scroll: 0 } };
  }
  const what = `Saved in ${files.join(" and ")}: ${changesText(state, saving)}`;
  const again = openJob(settled, job.path);
  return {
    ...again,
    changes: changedSince(state.changes, saving),
    past: [],
    future: [],
    exported: before && { ...before, changes: UNCHANGED },
    saved: [...state.saved, what],
    notice: { text: what, tone: "good" },
  };
}

/** Keys do not wait for a disk. */
function changedSince({ quantities, pieces }: Changes, saving: Changes): Changes {
  const later = Object.entries(quantities).filter(
    ([part, quantity]) => quantity !== saving.quantities[part],
  );
  return {
    quantities: Object.fromEntries(later),
    pieces: pieces === saving.pieces ? null : pieces,
  };
}
