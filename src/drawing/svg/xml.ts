import { SaxesParser } from "saxes";
import { checked, errorAt, inFile, warningAt } from "../../problem.ts";
import type { Checked, Fault, Place, Problem } from "../../problem.ts";
import { excerpt } from "../fault.ts";
import { entityFault, readEntities } from "./entities.ts";

/** An element of an SVG, without its namespace prefix `svg:`. */
export interface Element {
  readonly tag: string;
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: readonly Element[];
  /** Text directly inside. */
  readonly text: string;
  /** Of its start tag, from 1. */
  readonly line: number;
}

/** Deeper nesting is no drawing, and would cost the walk its stack. */
export const DEEPEST = 256;

/**
 * Reads XML 1.0 by itself alone: no other file is ever opened, and only entities that stand for
 * plain text are followed.
 */
export function readXml(file: string, text: string): Checked<Element> {
  const builder = new Builder();
  const parser = new SaxesParser();
  const problems: Problem[] = [];
  let fault: string | null = null;
  const here = (): Place => ({ ...inFile(file), line: parser.line });
  parser.on("error", ({ message }) => {
    fault ??= message;
  });
  parser.on("doctype", (type) => {
    const entities = readEntities(type);
    Object.assign(parser.ENTITIES, Object.fromEntries(entities.plain));
    const refused = entityFault(entities, text);
    if (refused !== null) problems.push(errorAt(here(), refused));
  });
  parser.on("processinginstruction", ({ target }) => {
    if (target === "xml-stylesheet") problems.push(warningAt(here(), otherStyleSheet()));
  });
  parser.on("opentagstart", () => builder.begin(startLine(parser)));
  parser.on("opentag", ({ name, attributes }) => builder.open(name, attributes));
  parser.on("text", (piece) => builder.write(piece));
  parser.on("cdata", (piece) => builder.write(piece));
  parser.on("closetag", () => builder.close());
  parser.write(text).close();
  if (builder.tooDeepAt !== null) return tooDeep(file, builder.tooDeepAt);
  if (problems.some(({ code }) => code === "svg-entity")) return { value: null, problems };
  if (fault !== null || builder.root === null) return malformed(file, fault ?? "no element");
  return checked(builder.root, problems);
}

export function placeOf(file: string, { tag, line, attributes }: Element): Place {
  const id = attributes.get("id");
  return { file, line, column: id === undefined ? tag : `${tag} "${id}"` };
}

/** The parser has read one character past the name; a line break there belongs to the tag. */
function startLine(parser: SaxesParser): number {
  return parser.columnIndex === 0 ? parser.line - 1 : parser.line;
}

type Growing = Omit<Element, "children" | "text"> & { children: Growing[]; text: string };

class Builder {
  root: Growing | null = null;
  tooDeepAt: number | null = null;
  #stack: Growing[] = [];
  #skipped = 0;
  #line = 1;

  begin(line: number): void {
    this.#line = line;
  }

  open(name: string, attributes: Readonly<Record<string, string>>): void {
    if (this.#skipped > 0 || this.#stack.length >= DEEPEST) {
      this.#skipped++;
      this.tooDeepAt ??= this.#line;
      return;
    }
    const element: Growing = {
      tag: name.replace(/^svg:/, ""),
      attributes: new Map(Object.entries(attributes)),
      children: [],
      text: "",
      line: this.#line,
    };
    this.#stack.at(-1)?.children.push(element);
    this.root ??= element;
    this.#stack.push(element);
  }

  write(piece: string): void {
    const element = this.#stack.at(-1);
    if (element !== undefined) element.text += piece;
  }

  close(): void {
    if (this.#skipped > 0) this.#skipped--;
    else this.#stack.pop();
  }
}

function otherStyleSheet(): Fault {
  return {
    code: "svg-style-sheet",
    found: "<?xml-stylesheet?>",
    expected: "style sheets inside the drawing; other files are not read",
    mend: "Save the drawing with its styles inside it",
  };
}

function tooDeep(file: string, line: number): Checked<Element> {
  const fault = {
    code: "svg-too-deep",
    found: `elements nested more than ${DEEPEST} deep`,
    expected: `at most ${DEEPEST} groups inside each other`,
    mend: "Ungroup the drawing",
  };
  return { value: null, problems: [errorAt({ ...inFile(file), line }, fault)] };
}

/** The parser begins its message with `line:column: `. */
function malformed(file: string, message: string): Checked<Element> {
  const [, line = null, what = message] = /^(\d+):\d+: (.*)$/s.exec(message) ?? [];
  const place = { ...inFile(file), line: line === null ? null : Number(line) };
  return { value: null, problems: [errorAt(place, syntaxFault(what.replace(/\.$/, "")))] };
}

const NO_SVG = "an SVG drawing, which begins with <svg";

function syntaxFault(what: string): Fault {
  const fault = { code: "svg-malformed", expected: "a well-formed SVG file" };
  if (/must contain a root/.test(what))
    return { ...fault, found: "", expected: NO_SVG, mend: "Save the drawing as plain SVG" };
  if (/outside of root/.test(what))
    return {
      ...fault,
      found: "text outside of the drawing",
      expected: NO_SVG,
      mend: "Save the drawing as plain SVG",
    };
  const isCut = /^unclosed tag|^unexpected end/.test(what);
  return {
    ...fault,
    found: excerpt(what),
    mend: isCut
      ? "Copy or save the drawing again: its end is missing"
      : "Save the drawing again as plain SVG, without entities of its own",
  };
}
