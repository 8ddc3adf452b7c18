/**
 * Errors as data. A stage that reads something gives back every problem it found; the sentence a
 * person reads is made here and nowhere else.
 */

/** `error` stops the estimate, `warning` stands beside it. */
export type Severity = "error" | "warning";

/** Where a thing was read: `line` counts from 1, `column` is a header name or a path in a file. */
export interface Place {
  readonly file: string;
  readonly line: number | null;
  readonly column: string | null;
}

export interface Problem extends Place {
  /** Stable kebab-case name of the kind of problem, for programs. */
  readonly code: string;
  readonly severity: Severity;
  /** What was read, as read. */
  readonly found: string;
  /** What would have been right. */
  readonly expected: string;
  /** What the person can do about it, an imperative sentence without a full stop. */
  readonly mend: string;
}

/** What is wrong at a place, without the place. */
export type Fault = Pick<Problem, "code" | "found" | "expected" | "mend">;

/** A value, or every problem that stands in its way; warnings may come with a value. */
export interface Checked<T> {
  /** `null` exactly when `problems` holds an error. */
  readonly value: T | null;
  readonly problems: readonly Problem[];
}

/** A whole file or a thing without a line. */
export function inFile(file: string): Place {
  return { file, line: null, column: null };
}

/** The same row, one of its columns. */
export function inColumn(place: Place, column: string): Place {
  return { ...place, column };
}

export function errorAt(place: Place, fault: Fault): Problem {
  return { ...place, ...fault, found: shortened(fault.found), severity: "error" };
}

export function warningAt(place: Place, fault: Fault): Problem {
  return { ...place, ...fault, found: shortened(fault.found), severity: "warning" };
}

/** More of what was read does not help to find it. */
const MOST_SHOWN = 160;

function shortened(found: string): string {
  return found.length > MOST_SHOWN ? `${found.slice(0, MOST_SHOWN)}...` : found;
}

export function isError(problem: Problem): boolean {
  return problem.severity === "error";
}

/** Joins a value with its problems and keeps the promise of {@link Checked}. */
export function checked<T>(value: T, problems: readonly Problem[]): Checked<T> {
  return { value: problems.some(isError) ? null : value, problems };
}

/** Those whose cell is not complained of already: one slip is said once, by whom it was seen first. */
export function unsaid(problems: readonly Problem[], said: readonly Problem[]): readonly Problem[] {
  const cells = new Set(said.filter(isError).map(placeText));
  return problems.filter((problem) => !cells.has(placeText(problem)));
}

/** `parts.csv, line 4, thickness: read "3,2", expected a length like 3.2 mm. Write a decimal point.` */
export function sentence(problem: Problem): string {
  return `${placeText(problem)}: read ${quoted(problem.found)}, expected ${problem.expected}. ${problem.mend}.`;
}

/** `parts.csv, line 4, thickness`; `parts.xlsx, row 4, thickness`. */
export function placeText({ file, line, column }: Place): string {
  return [file, line === null ? null : `${lineWord(file)} ${line}`, column]
    .filter((piece) => piece !== null)
    .map(printable)
    .join(", ");
}

/** A workbook has no lines. */
export function lineWord(file: string): "line" | "row" {
  return isWorkbook(file) ? "row" : "line";
}

export function isWorkbook(file: string): boolean {
  return /\.xlsx$/i.test(file);
}

function quoted(found: string): string {
  return found === "" ? "nothing" : `"${printable(found)}"`;
}

/** Control characters made visible, so that a name can not steer the reader's terminal. */
export function printable(text: string): string {
  // oxlint-disable-next-line no-control-regex -- control characters are what is looked for
  return text.replace(/[\u0000-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g, (character) => {
    const code = character.codePointAt(0) ?? 0;
    return code < 0x20 ? String.fromCodePoint(0x2400 + code) : "\uFFFD";
  });
}
