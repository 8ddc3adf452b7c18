import type { LineRule, SourceText } from "../job/types.ts";
import { isError } from "../problem.ts";
import type { Checked, Place, Problem } from "../problem.ts";
import { piecesFromLines } from "./assemble.ts";
import type { Pieces } from "./assemble.ts";
import type { LinesRead } from "./drawn-line.ts";
import type { LineMarks } from "./line-rules.ts";
import { openDrawing } from "./open-drawing.ts";
import type { Drawing } from "./open-drawing.ts";
import { idleRules } from "./rule-use.ts";

/** What could be read, also where it has errors: what else is wrong is said with them. */
export interface Partly<T> {
  readonly value: T | null;
  readonly problems: readonly Problem[];
}

/** Goes on from what could be read of a drawing, without what only follows from its errors. */
export function goneOn<T>(before: readonly Problem[], after: Checked<T>): Partly<T> {
  const isKnown = before.some(isError);
  const news = after.problems.filter(({ code }) => !isKnown || code !== "outline-missing");
  return { value: after.value, problems: [...before, ...news] };
}

/** All drawings of a job. What is the same for all parts of a drawing is done once. */
export class Drawings {
  readonly #texts: readonly SourceText[];
  readonly #rules: readonly LineRule[];
  /** By name; null for one that is not there. */
  readonly #opened = new Map<string, Checked<Drawing> | null>();
  readonly #pieces = new Map<string, Partly<Pieces>>();
  /** Marks of the lines of elements and layers that were read on their own. */
  readonly #ofPieces: (readonly LineMarks[])[] = [];
  readonly #ofWhole = new Map<Drawing, readonly LineMarks[]>();

  /** @param texts the job's files, among them the drawings. */
  constructor(texts: readonly SourceText[], rules: readonly LineRule[]) {
    this.#texts = texts;
    this.#rules = rules;
  }

  /** Null when there is no file of that name. */
  open(path: string): Checked<Drawing> | null {
    const known = this.#opened.get(path);
    if (known !== undefined) return known;
    const text = this.#texts.find(({ name }) => name === path);
    const drawing = text === undefined ? null : openDrawing(text);
    this.#opened.set(path, drawing);
    return drawing;
  }

  /** @param id null for the whole drawing. */
  lines(drawing: Drawing, id: string | null, cell: Place): LinesRead {
    const read = drawing.lines(id, this.#rules, cell);
    if (id === null) this.#ofWhole.set(drawing, read.marks);
    else this.#ofPieces.push(read.marks);
    return read;
  }

  /** The whole drawing, taken apart by its outlines. */
  pieces(drawing: Drawing, cell: Place): Partly<Pieces> {
    const known = this.#pieces.get(drawing.file) ?? this.#takenApart(drawing, cell);
    this.#pieces.set(drawing.file, known);
    return known;
  }

  #takenApart(drawing: Drawing, cell: Place): Partly<Pieces> {
    const { drawn, problems } = this.lines(drawing, null, cell);
    if (drawn === null) return { value: null, problems };
    return goneOn(problems, piecesFromLines(drawn.lines, drawn.place));
  }

  /**
   * Warnings for rules that take no line, once all parts are read; none while a drawing can not be
   * read, which may hold such lines. Lines of a drawing that no part uses count as well.
   */
  idleRules(): Problem[] {
    const drawings = [...this.#opened.values()].map((read) => read?.value ?? null);
    if (drawings.length === 0 || drawings.includes(null) || this.#rules.length === 0) return [];
    const used = [...this.#ofWhole.values(), ...this.#ofPieces].flat();
    if (idleRules(this.#rules, used).length === 0) return [];
    const all = drawings.flatMap((drawing) => {
      if (drawing === null) return [];
      const cell = { file: drawing.file, line: null, column: null };
      return this.#ofWhole.get(drawing) ?? this.lines(drawing, null, cell).marks;
    });
    return idleRules(this.#rules, all);
  }
}
