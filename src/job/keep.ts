import { isMap, isNode, isScalar, parseDocument } from "yaml";
import { columnName, readRecords } from "../csv.ts";
import { plainName, sameText } from "../names.ts";
import { checked, errorAt, inFile, isWorkbook } from "../problem.ts";
import type { Checked, Place, Problem } from "../problem.ts";
import { readJobFile } from "./job-file.ts";
import type { JobFileRead } from "./job-file.ts";
import { isPartsList, JOB_FILES } from "./file-names.ts";
import { partsListOf } from "./job.ts";
import type { SourceText } from "./types.ts";

/**
 * Numbers changed on screen, written into the text that they came from: only their digits change.
 * Every text made here is read once more and has to say what was wanted, and else what it said.
 */

export interface KeptText {
  readonly name: string;
  /** Of the file that the change was made from; null for one that is new. */
  readonly sha256: string | null;
  readonly text: string;
}

/** The files that have to change; every problem when a number has no place in one. */
export function keepChanges(
  texts: readonly SourceText[],
  { quantities, pieces }: { readonly quantities: Quantities; readonly pieces: number | null },
): Checked<readonly KeptText[]> {
  const list = partsListOf(texts);
  const jobFile = texts.find(({ name }) => JOB_FILES.includes(plainName(name))) ?? null;
  const kept: KeptText[] = [];
  const problems: Problem[] = [];
  const keep = (source: SourceText | null, name: string, made: Checked<string>): void => {
    problems.push(...made.problems);
    if (made.value !== null) kept.push({ name, sha256: source?.sha256 ?? null, text: made.value });
  };
  if (list && Object.keys(quantities).length > 0)
    keep(
      list,
      list.name,
      isWorkbook(list.name) ? workbookLeft(list) : keepQuantities(list, quantities),
    );
  if (pieces !== null)
    keep(
      jobFile,
      jobFile?.name ?? "job.yaml",
      list && !isPartsList(list.name) ? noJobFile(list) : keepPieces(jobFile, pieces),
    );
  return checked(kept, problems);
}

type Quantities = Readonly<Record<string, number>>;

/** @param quantities by part name; the list has been read without errors. */
export function keepQuantities(list: SourceText, quantities: Quantities): Checked<string> {
  const { separator, records } = recordsOf(list, list.text);
  const header = (records[0]?.cells ?? []).map(columnName);
  const [nameAt, quantityAt] = [header.indexOf("part"), header.indexOf("qty")];
  const wanted = new Map(
    Object.entries(quantities).map(([part, value]) => [plainName(part), value]),
  );
  const edits = records.slice(1).flatMap(({ line, cells }) => {
    const value = wanted.get(plainName(cells[nameAt] ?? ""));
    if (value === undefined) return [];
    return { ...cellSpan(list.text, line, quantityAt, separator), value };
  });
  const text = edits
    .toSorted((a, b) => b.start - a.start)
    .reduce((before, edit) => withDigits(before, edit), list.text);
  const expected = records.map(({ cells }) => {
    const value = wanted.get(plainName(cells[nameAt] ?? ""));
    return value === undefined ? cells : cells.with(quantityAt, String(value));
  });
  const said = recordsOf(list, text).records.map(({ cells }) => cells);
  if (edits.length === wanted.size && JSON.stringify(said) === JSON.stringify(expected))
    return { value: text, problems: [] };
  const meant = Object.entries(quantities).map(([part, value]) => `${part} ${value}`);
  return refused({ ...inFile(list.name), column: "qty" }, meant.join(", "));
}

/** @param file the job file as it is, read without errors, or null where there is none. */
export function keepPieces(file: SourceText | null, pieces: number): Checked<string> {
  if (file === null) return { value: `pieces: ${pieces}\n`, problems: [] };
  const span = piecesSpan(file.text);
  const text = span ? withDigits(file.text, { ...span, value: pieces }) : lineAdded(file, pieces);
  if (saysPieces(file, text, pieces)) return { value: text, problems: [] };
  return refused({ ...inFile(file.name), column: "pieces" }, String(pieces));
}

interface Span {
  readonly start: number;
  readonly end: number;
}

/** Line breaks of all kinds count once, mixed or not. */
function recordsOf({ name }: SourceText, text: string): ReturnType<typeof readRecords> {
  return readRecords(name, text.replace(/\r\n?/g, "\n"));
}

/** Quotes and blanks around the number stay. */
function withDigits(
  text: string,
  { start, end, value }: Span & { readonly value: number },
): string {
  const cell = text.slice(start, end).replace(/\d+/, String(value));
  return text.slice(0, start) + cell + text.slice(end);
}

/** A cell with its quotes, by the line on which its record begins and its place in the record. */
function cellSpan(text: string, line: number, column: number, separator: string): Span {
  let start = lineStart(text, line);
  for (let at = 0; at < column; at += 1) start = cellEnd(text, start, separator) + 1;
  return { start, end: cellEnd(text, start, separator) };
}

function lineStart(text: string, line: number): number {
  const breaks = [...text.matchAll(/\r\n|\r|\n/g)];
  const before = breaks[line - 2];
  return before ? before.index + before[0].length : 0;
}

/** Quotes count only where a cell begins with one (RFC 4180). */
function cellEnd(text: string, start: number, separator: string): number {
  let at = start;
  if (text[at] === '"') {
    do at = text.indexOf('"', at + 1) + 1;
    while (at > 0 && text[at] === '"');
    if (at === 0) return text.length;
  }
  while (at < text.length && text[at] !== separator && text[at] !== "\n" && text[at] !== "\r")
    at += 1;
  return at;
}

function piecesSpan(text: string): Span | null {
  const { contents } = parseDocument(text, { schema: "failsafe" });
  if (!isMap(contents)) return null;
  const pair = contents.items.find(({ key }) => isScalar(key) && sameText(String(key), "pieces"));
  const range = isNode(pair?.value) ? pair.value.range : null;
  return range ? { start: range[0], end: range[1] } : null;
}

function lineAdded({ text }: SourceText, pieces: number): string {
  const lineEnd = /\r\n|\r|\n/.exec(text)?.[0] ?? "\n";
  const gap = text === "" || /[\r\n]$/.test(text) ? "" : lineEnd;
  return `${text}${gap}pieces: ${pieces}${lineEnd}`;
}

function saysPieces(file: SourceText, text: string, pieces: number): boolean {
  const [before, after] = [readJobFile(file), readJobFile({ ...file, text })];
  return after.file.pieces === pieces && restOf(before) === restOf(after);
}

/** All that a job file says but the pieces, and what is wrong with it. */
function restOf({ file, problems }: JobFileRead): string {
  const settings = [...file.settings];
  return JSON.stringify({ ...file, settings, pieces: 0, piecesPlace: null, problems });
}

/** A job file beside a lone list is not read. */
function noJobFile({ name }: SourceText): Checked<string> {
  const fault = {
    code: "no-job-file",
    found: "a lone parts list",
    expected: "a job folder, whose job.yaml says how many pieces are commissioned",
    mend: "Put the list into a folder of its own as parts.csv, and quote that folder",
  };
  return { value: null, problems: [errorAt({ ...inFile(name), column: "pieces" }, fault)] };
}

/** Nothing but its numbers may change, and a workbook holds more than is read of it. */
function workbookLeft({ name }: SourceText): Checked<string> {
  const fault = {
    code: "workbook-not-written",
    found: "quantities changed on screen",
    expected: "a parts list as CSV to write them into: a workbook is only read",
    mend: "Change the quantities in the workbook and save it, then read the job again",
  };
  return { value: null, problems: [errorAt({ ...inFile(name), column: "qty" }, fault)] };
}

function refused(place: Place, found: string): Checked<string> {
  return {
    value: null,
    problems: [
      errorAt(place, {
        code: "not-kept",
        found,
        expected: "a place for the number that can be changed without touching anything else",
        mend: "Write the number into the file in an editor, then read the job again",
      }),
    ],
  };
}
