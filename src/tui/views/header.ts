import type { Estimate } from "../../estimate-data.ts";
import { clockText } from "../../units.ts";
import { ends, fit, lineWidth } from "../line.ts";
import type { Line, Span } from "../line.ts";
import { sheetRows } from "../rows.ts";
import { piecesOf } from "../changes.ts";
import { PANELS, standing, totalText } from "../state.ts";
import type { PanelName, State } from "../state.ts";
import { isReading } from "./reading.ts";
import { cut, displayWidth } from "../text.ts";

/** What is quoted and how it stands; below it the way of the quote, with a figure at every stage. */

const TITLES: Readonly<Record<PanelName, string>> = {
  parts: "Parts",
  sizes: "Sizes",
  sheets: "Sheets",
  time: "Time",
  price: "Price",
};

export function headerLines(state: State, columns: number): readonly Line[] {
  return [titleLine(state, columns), fit(wayLine(state, columns), columns)];
}

/** A long title gives way to what stands beside it. */
function titleLine(state: State, columns: number): Line {
  const { estimate, job, opening, openProblems, problems } = state;
  const title = estimate?.title ?? job?.path ?? opening?.path ?? "tallywright";
  const { word, tone } = standing(state);
  const count = new Set([...openProblems, ...problems, ...(estimate?.warnings ?? [])]).size;
  const right: Line = [
    { text: count > 0 ? `${count} to read, p  ` : "", tone: "caution" },
    { text: word, tone },
  ];
  const pieces = estimate ? `  ${piecesText(state, estimate)}` : "";
  const free =
    columns - lineWidth(right) - 1 - Math.min(displayWidth(pieces), Math.floor(columns / 3));
  return ends([{ text: cut(title, free), tone: "title" }, { text: pieces }], right, columns);
}

/** `12 x way-marker`, with a mark while the figures are for another number. */
function piecesText(state: State, { pieces, pieceName }: Estimate): string {
  const wanted = piecesOf(state) ?? pieces;
  const mark = state.changes.pieces === null ? "" : "*";
  return `${mark}${wanted} x ${pieceName}`;
}

/** As much as the width takes: shorter steps first, then only the figure of the panel in use. */
function wayLine(state: State, columns: number): Line {
  const wanted = [
    way(state, "─▸", () => true),
    way(state, "▸", () => true),
    way(state, "▸", (name) => name === state.panel || name === "price"),
  ];
  const fitting = wanted.find((line) => lineWidth(line) <= columns);
  return fitting ?? way(state, "▸", () => false);
}

function way(
  { estimate, panel, job }: State,
  step: string,
  told: (name: PanelName) => boolean,
): Line {
  return PANELS.flatMap((name, index): readonly Span[] => {
    const figure = estimate && told(name) ? figureOf(estimate, name) : "";
    const text = ` ${index + 1} ${TITLES[name]}${figure === "" ? "" : ` ${figure}`} `;
    const before: readonly Span[] = index === 0 ? [] : [{ text: step, tone: "muted" }];
    if (!job) return [...before, { text, tone: "muted" }];
    return [...before, name === panel ? { text, tone: "selected" } : { text }];
  });
}

/** The one figure that says most about a stage; the sizes have none. */
function figureOf(estimate: Estimate, panel: PanelName): string {
  if (panel === "parts") return String(estimate.parts.length);
  if (panel === "sizes") return "";
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
  if (!job || isReading(overlay)) return [{ text: "─".repeat(columns), tone: "muted" }];
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
