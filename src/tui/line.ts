import { cut, displayWidth, left, right } from "./text.ts";
import type { Tone } from "./theme.ts";

/** What is drawn: lines of spans, measured before Ink sees them, so that no line ever wraps. */
export interface Span {
  readonly text: string;
  readonly tone?: Tone;
}

export type Line = readonly Span[];

export interface Column {
  readonly text: string;
  /** Cells it takes, the blank after it not counted. */
  readonly width: number;
  readonly align?: "left" | "right";
}

export function plain(text: string, tone?: Tone): Line {
  return [tone === undefined ? { text } : { text, tone }];
}

export const EMPTY_LINE: Line = [{ text: "" }];

/** Cells side by side with one blank between. */
export function columns(cells: readonly Column[]): string {
  return cells
    .map(({ text, width, align }) => (align === "right" ? right(text, width) : left(text, width)))
    .join(" ");
}

export function lineWidth(line: Line): number {
  return line.reduce((sum, { text }) => sum + displayWidth(text), 0);
}

/** Exactly `cells` wide. */
export function fit(line: Line, cells: number): Line {
  let free = cells;
  const spans: Span[] = [];
  for (const span of line) {
    const text = cut(span.text, free);
    if (text !== "") spans.push({ ...span, text });
    free -= displayWidth(text);
  }
  return free > 0 ? [...spans, { text: " ".repeat(free) }] : spans;
}

/** The first at the left, the second at the right edge; the first gives way. */
export function ends(first: Line, second: Line, cells: number): Line {
  return [...fit(first, Math.max(0, cells - lineWidth(second) - 1)), { text: " " }, ...second];
}

/** Exactly `rows` lines, each exactly `cells` wide. */
export function block(lines: readonly Line[], cells: number, rows: number): readonly Line[] {
  return Array.from({ length: Math.max(0, rows) }, (_, index) =>
    fit(lines[index] ?? EMPTY_LINE, cells),
  );
}

/** Two blocks of the same height with a rule between. */
export function sideBySide(first: readonly Line[], second: readonly Line[]): readonly Line[] {
  return first.map((line, index) => [
    ...line,
    { text: " │ ", tone: "muted" },
    ...(second[index] ?? EMPTY_LINE),
  ]);
}

/** The slice of a list that keeps the cursor in view, near the middle where there is room. */
export function windowStart(count: number, cursor: number, rows: number): number {
  const last = Math.max(0, count - rows);
  return Math.min(last, Math.max(0, cursor - Math.floor(rows / 2)));
}
