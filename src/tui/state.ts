import type { Estimate, EstimateInput } from "../estimate-data.ts";
import { isError } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { UNCHANGED } from "./changes.ts";
import type { Changes, Quantities } from "./changes.ts";
import type { Context } from "./keys.ts";
import type { OpenedJob } from "./services.ts";
import type { Tone } from "./theme.ts";

/** All that the screen knows. Effects are asked for here as data and carried out by the app. */

/** The way of a quote, in the order of its stages. */
export const PANELS = ["parts", "sizes", "sheets", "time", "price"] as const;
export type PanelName = (typeof PANELS)[number];

export interface Size {
  readonly columns: number;
  readonly rows: number;
}

/** What lies over the panels, until Esc. */
export type Overlay =
  | { readonly kind: "quantity"; readonly part: string; readonly text: string }
  | { readonly kind: "pieces"; readonly text: string }
  | { readonly kind: "path"; readonly text: string }
  | { readonly kind: "help"; readonly scroll: number }
  | { readonly kind: "notes"; readonly scroll: number }
  | {
      readonly kind: "why";
      readonly title: string;
      /** Ids of the figures asked about. */
      readonly roots: readonly string[];
      /** Paths of the rows that are unfolded, as `WhyRow` has them. */
      readonly unfolded: ReadonlySet<string>;
      readonly cursor: number;
    }
  | { readonly kind: "leaving" };

export interface Running {
  readonly stage: string;
  readonly done: number;
  readonly of: number;
  readonly elapsedS: number;
  /** It was asked to end with the best so far. */
  readonly finishing: boolean;
}

/** How the estimate shown stands to the numbers shown. */
export type Freshness = "stale" | "so far" | "current";

export interface Exporting {
  readonly estimate: Estimate;
  readonly changes: Changes;
}

export interface Exported {
  readonly dir: string;
  readonly files: readonly string[];
  readonly estimate: Estimate;
  readonly changes: Changes;
}

export interface State {
  readonly size: Size;
  readonly job: OpenedJob | null;
  /** Jobs found to choose from; null until they were looked for. */
  readonly jobs: readonly string[] | null;
  /** The path being opened; `request` tells a late answer from the one waited for. */
  readonly opening: { readonly request: number; readonly path: string } | null;
  /** The path asked for last, for reading it again. */
  readonly path: string | null;
  readonly requests: number;
  readonly changes: Changes;
  /** As the job's files have them, as far as an estimate has told. */
  readonly listed: { readonly quantities: Quantities; readonly pieces: number | null };
  readonly past: readonly Changes[];
  readonly future: readonly Changes[];
  /** Number of the newest estimate asked for; results of older ones are not looked at. */
  readonly run: number;
  /** What the newest estimate is asked of. */
  readonly asked: EstimateInput | null;
  readonly running: Running | null;
  readonly estimate: Estimate | null;
  readonly freshness: Freshness;
  /** Why the last path could not be opened. */
  readonly openProblems: readonly Problem[];
  /** Why there is no estimate for the present numbers. */
  readonly problems: readonly Problem[];
  readonly panel: PanelName;
  /** The panel shown beside the parts on a wide screen. */
  readonly beside: Exclude<PanelName, "parts">;
  readonly cursors: Readonly<Record<PanelName | "start", number>>;
  readonly overlay: Overlay | null;
  readonly notice: { readonly text: string; readonly tone: Tone } | null;
  /** What is being written. */
  readonly exporting: Exporting | null;
  readonly exported: Exported | null;
  /** What is being written into the job's files. */
  readonly saving: Changes | null;
  /** What was written into them, in words, for what is said after leaving. */
  readonly saved: readonly string[];
  /** Ctrl-C was the last key, with nothing running: the next one leaves. */
  readonly interrupted: boolean;
  readonly left: boolean;
}

/** With a path that job is being opened, without one there is a choice. */
export function initialState(size: Size, path: string | null): State {
  return {
    size,
    job: null,
    jobs: null,
    opening: path === null ? null : { request: 1, path },
    path,
    requests: path === null ? 0 : 1,
    changes: UNCHANGED,
    listed: { quantities: {}, pieces: null },
    past: [],
    future: [],
    run: 0,
    asked: null,
    running: null,
    estimate: null,
    freshness: "stale",
    openProblems: [],
    problems: [],
    panel: "parts",
    beside: "sheets",
    cursors: { parts: 0, sizes: 0, sheets: 0, time: 0, price: 0, start: 0 },
    overlay: null,
    notice: null,
    exporting: null,
    exported: null,
    saving: null,
    saved: [],
    interrupted: false,
    left: false,
  };
}

/** Where keys go. */
export function contextOf({ overlay, job, panel }: State): Context {
  if (overlay === null) return job === null ? "start" : panel;
  if (overlay.kind === "leaving" || overlay.kind === "why") return overlay.kind;
  return "text" in overlay ? "field" : "reading";
}

/** The part under the cursor. */
export function selectedPart({ estimate, cursors }: State): string | null {
  return estimate?.parts[cursors.parts]?.name ?? null;
}

/** One word (or three) for how things stand; colour only repeats it. */
export function standing(state: State): { readonly word: string; readonly tone: Tone } {
  const { running, estimate, freshness, problems, openProblems, opening, job } = state;
  if (opening) return { word: "opening", tone: "caution" };
  if (running?.finishing) return { word: "ending", tone: "caution" };
  if (running) {
    const shown = { stale: ", figures stale", "so far": ", best so far", current: "" }[freshness];
    return { word: `working${estimate ? shown : ""}`, tone: "caution" };
  }
  if (problems.some(isError))
    return { word: estimate ? "problems, figures stale" : "problems", tone: "problem" };
  if (!job)
    return openProblems.some(isError)
      ? { word: "problems", tone: "problem" }
      : { word: "no job", tone: "muted" };
  return freshness === "current"
    ? { word: "ready", tone: "good" }
    : { word: "stale", tone: "caution" };
}

/** `1234.50 EUR`: what the customer pays, tax included. */
export function totalText({ quote, currency }: Estimate): string {
  return `${quote.find(({ kind }) => kind === "total")?.amount ?? "?"} ${currency.code}`;
}
