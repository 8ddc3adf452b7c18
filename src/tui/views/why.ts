import type { Estimate } from "../../estimate-data.ts";
import { valueText } from "../../exports/figure-text.ts";
import { columns, plain, windowStart } from "../line.ts";
import type { Line } from "../line.ts";
import type { State } from "../state.ts";
import { wrap } from "../text.ts";
import { originText, whyRows } from "../why.ts";
import type { WhyRow } from "../why.ts";

/** The tree under a figure, a row for each, and below it the one under the cursor in full. */

const DETAIL_ROWS = 6;
const VALUE_CELLS = 18;
/** From here on a row also has room for where its figure comes from. */
const ROOMY = 110;

export function whyLines({ overlay, estimate, size }: State, rows: number): readonly Line[] {
  if (overlay?.kind !== "why" || !estimate) return [];
  const tree = whyRows(estimate, overlay.roots, overlay.unfolded);
  const shown = Math.max(1, rows - 1 - DETAIL_ROWS);
  const start = windowStart(tree.length, overlay.cursor, shown);
  const list = tree
    .slice(start, start + shown)
    .map((row, index) => rowLine(estimate, row, size.columns, start + index === overlay.cursor));
  const blank = Array.from({ length: shown - list.length }, () => plain(""));
  const chosen = tree[overlay.cursor];
  const place = tree.length > shown ? `, row ${overlay.cursor + 1} of ${tree.length}` : "";
  return [
    plain(`Why: ${overlay.title}${place}`, "title"),
    ...list,
    ...blank,
    ...(chosen ? details(estimate, chosen, size.columns) : []),
  ];
}

/** Deeper rows keep a readable width. */
const MOST_INDENT = 24;

function rowLine(estimate: Estimate, row: WhyRow, cells: number, chosen: boolean): Line {
  const mark = row.unfolded === null ? "·" : row.unfolded ? "▾" : "▸";
  const indent = " ".repeat(Math.min(row.depth * 2, MOST_INDENT));
  const label = `${indent}${mark} ${row.figure.label}`;
  const free = cells - 2 - VALUE_CELLS - 2;
  const from = cells >= ROOMY ? Math.floor(free * 0.5) : 0;
  const text = columns([
    { text: label, width: free - from },
    { text: valueText(row.figure, estimate.currency.code), width: VALUE_CELLS, align: "right" },
    ...(from > 0 ? [{ text: ` ${originText(estimate, row.figure)}`, width: from }] : []),
  ]);
  return chosen ? [{ text: "  " }, { text, tone: "selected" }] : [{ text: `  ${text}` }];
}

function details(estimate: Estimate, { figure }: WhyRow, cells: number): readonly Line[] {
  const origin = wrap(originText(estimate, figure), cells, 2);
  const most = DETAIL_ROWS - 3;
  const shown =
    origin.length > most ? [...origin.slice(0, most - 1), `${origin[most - 1]}…`] : origin;
  return [
    plain(""),
    plain(`${figure.label} = ${valueText(figure, estimate.currency.code)}`, "title"),
    plain(figure.id, "muted"),
    ...shown.map((text) => plain(text)),
  ];
}
