import type { Estimate } from "../estimate-data.ts";
import { isError } from "../problem.ts";
import type { Checked } from "../problem.ts";
import type { Progress } from "../work.ts";
import { estimateAnew, runCommand, typeText } from "./commands.ts";
import { commandFor } from "./keys.ts";
import { rowCount } from "./rows.ts";
import type { ExportOutcome, OpenedJob } from "./services.ts";
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
  | { readonly kind: "explained"; readonly lines: readonly string[] };

/** Pure: the same state and action give the same next state; no clock, no terminal, no file. */
export function reduce(state: State, action: Action): State {
  switch (action.kind) {
    case "key":
      return pressed(state, action.key);
    case "paste":
      return contextOf(state) === "field" ? typeText(state, action.text) : state;
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
    case "explained":
      return state.overlay?.kind === "why"
        ? { ...state, overlay: { ...state.overlay, lines: action.lines } }
        : state;
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
  if (value.path === state.job?.path) return estimateAnew({ ...settled, job: value, listed: {} });
  return estimateAnew({
    ...settled,
    job: value,
    quantities: {},
    listed: {},
    past: [],
    future: [],
    estimate: null,
    exported: state.exported && { ...state.exported, quantities: {} },
    panel: "parts",
    cursors: { ...state.cursors, parts: 0, sheets: 0, time: 0, price: 0 },
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
  const settled = { ...state, running: null };
  if (value !== null)
    return { ...withEstimate(settled, value), freshness: "current", problems: [] };
  const all = problems.some(isError) ? problems : [...problems, NO_ESTIMATE];
  return { ...settled, freshness: "stale", problems: all, overlay: { kind: "notes", scroll: 0 } };
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
  const asked = state.asked?.quantities ?? {};
  const told = estimate.parts.filter(({ name }) => asked[name] === undefined);
  const listed = Object.fromEntries(told.map(({ name, quantity }) => [name, quantity]));
  const cursors = { ...state.cursors };
  for (const panel of PANELS)
    cursors[panel] = Math.max(0, Math.min(cursors[panel], rowCount(estimate, panel) - 1));
  return { ...state, estimate, listed: { ...state.listed, ...listed }, cursors };
}

function exported(state: State, outcome: ExportOutcome): State {
  const { exporting } = state;
  const settled = { ...state, exporting: null };
  if (outcome.kind === "refused" || !exporting) {
    const openProblems = outcome.kind === "refused" ? outcome.problems : [];
    return { ...settled, openProblems, overlay: { kind: "notes", scroll: 0 } };
  }
  const { dir, files } = outcome;
  const { estimate, quantities } = exporting;
  const text = `Wrote ${files.length} files to ${dir}: ${files.join(", ")}`;
  const record: Exported = { dir, files, estimate, quantities };
  return { ...settled, exported: record, notice: { text, tone: "good" } };
}
