import type { Estimate } from "../../estimate-data.ts";
import { sentence } from "../../problem.ts";
import type { Problem } from "../../problem.ts";
import { COMMANDS, keyText } from "../keys.ts";
import type { CommandGroup } from "../keys.ts";
import { plain } from "../line.ts";
import type { Line } from "../line.ts";
import type { Size, State } from "../state.ts";
import { left, wrap } from "../text.ts";
import type { Tone } from "../theme.ts";

/** Longer texts over the panels: keys, problems and cautions. They scroll. */

/** Whether something is read in place of the panels. */
export function isReading(overlay: State["overlay"]): boolean {
  return overlay !== null && ("scroll" in overlay || overlay.kind === "why");
}

/** Lines of the frame that are neither header nor footer. */
export function bodyRows({ rows }: Size): number {
  return Math.max(1, rows - 6);
}

/** The furthest that the text on screen scrolls. */
export function scrollLimit(state: State): number {
  return Math.max(0, readingLines(state).length - readingRows(state.size));
}

/** One line of the body is the heading. */
export function readingRows(size: Size): number {
  return Math.max(1, bodyRows(size) - 1);
}

export function readingTitle({ overlay, path, job }: State): string {
  if (overlay?.kind === "help") return "Keys";
  return `Problems, warnings and cautions: ${job?.path ?? path ?? ""}`;
}

export function readingLines(state: State): readonly Line[] {
  const { overlay, size } = state;
  if (overlay?.kind === "help") return helpLines(size.columns);
  if (overlay?.kind === "notes") return noteLines(state, size.columns);
  return [];
}

const GROUPS: readonly CommandGroup[] = ["Move", "Change", "Look closer", "Job", "Field", "Leave"];

function helpLines(columns: number): readonly Line[] {
  return GROUPS.flatMap((group) => [
    plain(group, "title"),
    ...COMMANDS.filter((command) => command.group === group).flatMap(
      ({ keys, description, contexts }) => {
        const where =
          contexts.length > 3 ? "" : ` (${contexts.map((name) => WHERE[name]).join(", ")})`;
        const [first = "", ...more] = wrap(description + where, columns - 24);
        return [
          plain(`  ${left(keys.map(keyText).join(" "), 20)} ${first}`),
          ...more.map((text) => plain(`${" ".repeat(23)}${text}`)),
        ];
      },
    ),
    plain(""),
  ]);
}

const WHERE = {
  start: "choosing a job",
  parts: "parts",
  sizes: "sizes",
  sheets: "sheets",
  time: "time",
  price: "price",
  why: "why",
  reading: "reading",
  field: "typing",
  leaving: "asked about leaving",
} as const;

function noteLines(state: State, columns: number): readonly Line[] {
  const problems = [...state.openProblems, ...state.problems];
  const { estimate } = state;
  return [
    ...section("Problems: no estimate until they are mended", errors(problems), "problem", columns),
    ...(errors(problems).length > 0 ? [...nextSteps(), plain("")] : []),
    ...section("Warnings", warnings(problems, estimate), "caution", columns),
    ...section("Cautions", cautions(estimate), "caution", columns),
  ];
}

function nextSteps(): readonly Line[] {
  return [
    plain("What next: mend the files in an editor, then Esc and r reads them again;"),
    plain("o opens another job, q leaves."),
  ];
}

function section(
  title: string,
  texts: readonly string[],
  tone: Tone,
  columns: number,
): readonly Line[] {
  if (texts.length === 0) return [];
  const items = texts.flatMap((text, index) =>
    wrap(`${index + 1}. ${text}`, columns, 3).map((line) => plain(line)),
  );
  return [plain(`${title} (${texts.length})`, tone), ...items, plain("")];
}

function errors(problems: readonly Problem[]): readonly string[] {
  return problems.filter(({ severity }) => severity === "error").map(sentence);
}

function warnings(problems: readonly Problem[], estimate: Estimate | null): readonly string[] {
  const all = [...problems, ...(estimate?.warnings ?? [])];
  const texts = all.filter(({ severity }) => severity === "warning").map(sentence);
  return [...new Set(texts)];
}

function cautions(estimate: Estimate | null): readonly string[] {
  return (estimate?.cautions ?? []).map(({ text, because }) => `${text} (${because})`);
}
