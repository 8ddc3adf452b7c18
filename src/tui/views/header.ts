import type { Estimate } from "../../estimate-data.ts";
import { clockText } from "../../units.ts";
import { ends, fit } from "../line.ts";
import type { Line, Span } from "../line.ts";
import { sheetRows } from "../rows.ts";
import { PANELS, standing, totalText } from "../state.ts";
import type { PanelName, State } from "../state.ts";
import { displayWidth } from "../text.ts";

/** What is quoted and how it stands; below it the way of the quote, with a figure at every stage. */

const TITLES: Readonly<Record<PanelName, string>> = {
  parts: "Parts",
  sheets: "Sheets",
  time: "Time",
  price: "Price",
};

const STEP = " ─▸ ";

export function headerLines(state: State, columns: number): readonly Line[] {
  return [titleLine(state, columns), fit(wayLine(state), columns)];
}

function titleLine(state: State, columns: number): Line {
  const { estimate, job, opening, openProblems, problems } = state;
  const title = estimate?.title ?? job?.path ?? opening?.path ?? "tallywright";
  const { word, tone } = standing(state);
  const count = new Set([...openProblems, ...problems, ...(estimate?.warnings ?? [])]).size;
  const notes = count > 0 ? `${count} to read, p  ` : "";
  const right: Line = [
    { text: notes, tone: "caution" },
    { text: word, tone },
  ];
  const pieces = estimate ? `  ${estimate.pieces} x ${estimate.pieceName}` : "";
  return ends([{ text: title, tone: "title" }, { text: pieces }], right, columns);
}

function wayLine({ estimate, panel, job }: State): Line {
  if (!job) return [{ text: "parts ─▸ sheets ─▸ time ─▸ price", tone: "muted" }];
  return PANELS.flatMap((name, index): readonly Span[] => {
    const figure = estimate ? ` ${figureOf(estimate, name)}` : "";
    const text = ` ${index + 1} ${TITLES[name]}${figure} `;
    const step = index === 0 ? [] : [{ text: STEP.trim(), tone: "muted" } as const];
    return [...step, name === panel ? { text, tone: "selected" } : { text }];
  });
}

/** The one figure that says most about a stage. */
function figureOf(estimate: Estimate, panel: PanelName): string {
  if (panel === "parts")
    return `${estimate.parts.reduce((sum, { copies }) => sum + copies, 0)} pcs`;
  if (panel === "sheets") return String(sheetRows(estimate).length);
  if (panel === "time") {
    const times = estimate.stocks.flatMap((stock) => stock.times);
    return clockText(times.reduce((sum, { runningS }) => sum + runningS, 0));
  }
  return totalText(estimate);
}

/**
 * A rule that names the panels below it, heavy over the one that has the keys; `first` is the width
 * of the first of two.
 */
export function ruleLine({ size, panel, beside, job, overlay }: State, first: number | null): Line {
  const { columns } = size;
  if (!job || (overlay && "scroll" in overlay))
    return [{ text: "─".repeat(columns), tone: "muted" }];
  if (first === null) return [{ text: ruled(panel, true, columns), tone: "muted" }];
  return [
    { text: `${ruled("parts", panel === "parts", first)}─┬─`, tone: "muted" },
    { text: ruled(beside, panel !== "parts", columns - first - 3), tone: "muted" },
  ];
}

function ruled(panel: PanelName, hasKeys: boolean, width: number): string {
  const rule = hasKeys ? "━" : "─";
  const text = `${rule.repeat(2)} ${PANELS.indexOf(panel) + 1} ${TITLES[panel]} `;
  return text + rule.repeat(Math.max(0, width - displayWidth(text)));
}
