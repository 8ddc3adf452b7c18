import { changesText, isChanged, piecesOf, quantityOf } from "../changes.ts";
import { ACCEPTED } from "../fields.ts";
import { COMMANDS, keyText } from "../keys.ts";
import { block, fit, plain, sideBySide } from "../line.ts";
import type { Line } from "../line.ts";
import { offered } from "../commands.ts";
import { contextOf } from "../state.ts";
import type { PanelName, Size, State } from "../state.ts";
import { cut, displayWidth } from "../text.ts";
import { headerLines, ruleLine } from "./header.ts";
import { partsPanel } from "./parts.ts";
import { pricePanel } from "./price.ts";
import { bodyRows, isReading, readingLines, readingRows, readingTitle } from "./reading.ts";
import { sheetsPanel } from "./sheets.ts";
import { sizesPanel } from "./sizes.ts";
import { progressText, startLines, waitingLines } from "./start.ts";
import { timePanel } from "./time.ts";
import { whyLines } from "./why.ts";

/** The whole screen as lines: one fewer than the terminal has rows, each exactly as wide as it. */

export const LEAST: Size = { columns: 60, rows: 16 };
export const WIDE: Size = { columns: 120, rows: 36 };

/** Cells of the rule between two panels. */
const GUTTER = 3;

export function frameLines(state: State): readonly Line[] {
  const { columns, rows } = state.size;
  if (columns < LEAST.columns || rows < LEAST.rows) return tooSmall(state.size);
  const lines = [
    ...headerLines(state, columns),
    ruleLine(state, isWide(state) ? firstWidth(columns) : null),
    ...body(state),
    messageLine(state),
    fit(plain(footerText(state), "muted"), columns),
  ];
  return block(lines, columns, rows - 1);
}

/** Two panels side by side: the parts and the one chosen last. */
export function isWide({ size, overlay, estimate }: State): boolean {
  const big = size.columns >= WIDE.columns && size.rows >= WIDE.rows;
  return big && estimate !== null && !isReading(overlay);
}

function tooSmall({ columns, rows }: Size): readonly Line[] {
  const texts = [
    "The window is too small.",
    `It needs ${LEAST.columns} x ${LEAST.rows},`,
    `it has ${columns} x ${rows}.`,
    "Make it larger; nothing is lost.",
  ];
  return block(
    texts.map((text) => plain(text)),
    columns,
    Math.max(1, rows - 1),
  );
}

function body(state: State): readonly Line[] {
  const { size, overlay, job, estimate, panel, beside } = state;
  const rows = bodyRows(size);
  if (overlay?.kind === "why") return block(whyLines(state, rows), size.columns, rows);
  if (isReading(overlay)) return reading(state, rows);
  if (!job) return block(startLines(state), size.columns, rows);
  if (!estimate) return block(waitingLines(state), size.columns, rows);
  if (!isWide(state)) return drawn(state, panel, size.columns, rows);
  const first = firstWidth(size.columns);
  return sideBySide(
    drawn(state, "parts", first, rows),
    drawn(state, beside, size.columns - first - GUTTER, rows),
  );
}

function firstWidth(columns: number): number {
  return Math.floor((columns - GUTTER) * 0.45);
}

const DRAW = {
  parts: partsPanel,
  sizes: sizesPanel,
  sheets: sheetsPanel,
  time: timePanel,
  price: pricePanel,
} as const;

function drawn(state: State, panel: PanelName, cells: number, rows: number): readonly Line[] {
  return block(DRAW[panel](state, cells, rows), cells, rows);
}

function reading(state: State, rows: number): readonly Line[] {
  const { overlay, size } = state;
  const lines = readingLines(state);
  const shown = readingRows(size);
  const most = Math.max(0, lines.length - shown);
  const start = Math.min(overlay && "scroll" in overlay ? overlay.scroll : 0, most);
  const place =
    most > 0
      ? `, lines ${start + 1} to ${start + Math.min(shown, lines.length)} of ${lines.length}`
      : "";
  const title = plain(`${readingTitle(state)}${place}`, "title");
  return block([title, ...lines.slice(start, start + shown)], size.columns, rows);
}

/** A field, a question, what just happened, how far the work is, or what is not kept yet. */
function messageLine(state: State): Line {
  return fit(message(state), state.size.columns);
}

function message(state: State): Line {
  const { overlay, notice, running, exporting, saving } = state;
  if (overlay && "text" in overlay) return fieldLine(state, overlay.text);
  if (notice) return plain(notice.text, notice.tone);
  if (overlay?.kind === "leaving")
    return plain(
      `Leave all the same? Neither saved nor exported: ${changesText(state)}`,
      "caution",
    );
  if (exporting) return plain("writing the quote", "caution");
  if (saving) return plain("saving the changed numbers", "caution");
  if (running) return plain(progressText(running, state.freshness), "caution");
  if (!isChanged(state.changes)) return plain("");
  return plain(`Changed, not in the job's files yet: ${changesText(state)}`, "caution");
}

function fieldLine(state: State, text: string): Line {
  const { overlay, notice, estimate, size } = state;
  const said = notice ? plain(`  ${notice.text}`, notice.tone) : [];
  if (overlay?.kind === "path")
    return [...field("Job folder or parts list", text, size.columns), ...said];
  const pieceName = estimate?.pieceName ?? "piece";
  const [question, now] =
    overlay?.kind === "quantity"
      ? [`${overlay.part}, how many in each ${pieceName}`, quantityOf(state, overlay.part)]
      : [`How many of ${pieceName} are commissioned`, piecesOf(state)];
  const hint = plain(`  ${ACCEPTED}${now === null ? "" : `, now ${now}`}`, "muted");
  return [...field(question, text, size.columns), ...(notice ? said : hint)];
}

/** The end of a long text stays in sight: that is where one types. */
function field(question: string, text: string, columns: number): Line {
  const asked = cut(question, Math.floor(columns / 2));
  let shown = text;
  while (displayWidth(shown) > columns - displayWidth(asked) - 4) shown = shown.slice(1);
  return [{ text: `${asked}: `, tone: "title" }, { text: shown }, { text: " ", tone: "selected" }];
}

/** The keys that work here and now, as many as fit, the help key always. */
export function footerText(state: State): string {
  const context = contextOf(state);
  const known = COMMANDS.filter((command) => offered(state, command));
  const texts = known.map(({ id, keys, label }) => ({
    id,
    text: `${keyText(keys[0] ?? "")} ${label}`,
  }));
  const help = texts.find(({ id }) => id === "help")?.text ?? "";
  let line = context === "reading" ? "↑↓ scroll" : "";
  for (const { id, text } of texts) {
    if (id === "help") continue;
    const longer = line === "" ? text : `${line}  ${text}`;
    if (displayWidth(longer) + displayWidth(help) + 2 > state.size.columns) break;
    line = longer;
  }
  return help === "" ? line : `${line}  ${help}`;
}
