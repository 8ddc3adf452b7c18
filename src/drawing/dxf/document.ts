import { errorAt, inFile, warningAt } from "../../problem.ts";
import type { Fault, Problem } from "../../problem.ts";
import { excerpt } from "../fault.ts";
import { Fields, nameKey } from "./fields.ts";
import { readHeader } from "./header.ts";
import type { Header } from "./header.ts";
import { readLayer } from "./layers.ts";
import type { Layer } from "./layers.ts";
import { DxfText } from "./records.ts";
import type { DxfRecord } from "./records.ts";

/** Something drawn, with the records that belong to it: vertices, attributes. */
export interface Entity {
  readonly record: DxfRecord;
  readonly parts: readonly DxfRecord[];
}

/** Entities under a name, drawn where an INSERT says. */
export interface Block {
  readonly name: string;
  readonly record: DxfRecord;
  readonly entities: readonly Entity[];
}

/** What a file holds, as written. */
export interface DxfDocument {
  readonly header: Header;
  /** By {@link nameKey}. */
  readonly layers: ReadonlyMap<string, Layer>;
  /** By {@link nameKey}. */
  readonly blocks: ReadonlyMap<string, Block>;
  readonly entities: readonly Entity[];
  readonly problems: readonly Problem[];
}

export function readDocument(file: string, text: string): DxfDocument {
  const foreign = foreignFormat(text);
  const reading = new Reading(file);
  if (foreign === null) reading.read(new DxfText(text));
  else reading.problems.push(errorAt(inFile(file), foreign));
  return reading;
}

/** Records that belong to the entity before them. */
const PARTS: ReadonlySet<string> = new Set(["VERTEX", "ATTRIB", "SEQEND"]);

interface Growing extends Entity {
  readonly parts: DxfRecord[];
}

class Reading implements DxfDocument {
  header: Header = new Map();
  readonly layers = new Map<string, Layer>();
  readonly blocks = new Map<string, Block>();
  readonly entities: Growing[] = [];
  readonly problems: Problem[] = [];
  readonly #file: string;
  #section: { readonly name: string; readonly line: number } | null = null;
  /** Where entities go now. */
  #into: Growing[] | null = null;
  #hasEntities = false;
  #ended = false;

  constructor(file: string) {
    this.#file = file;
  }

  read(text: DxfText): void {
    for (const record of text.records()) this.#take(record);
    if (text.fault !== null) this.#report(text.fault.line, text.fault.fault);
    else if (this.#section !== null) this.#report(text.line, unended(this.#section.name));
    else if (!this.#hasEntities) this.#report(null, noEntities());
    else if (!this.#ended) this.problems.push(warningAt(this.#at(text.line), endless()));
  }

  #take(record: DxfRecord): void {
    const { type, line } = record;
    if (type === "SECTION") return this.#begin(record);
    if (type === "ENDSEC") {
      if (this.#section === null) this.#report(line, stray(type));
      this.#section = null;
      this.#into = null;
    } else if (type === "EOF") this.#ended = true;
    else if (this.#section === null) this.#report(line, stray(type));
    else if (this.#section.name === "TABLES" && type === "LAYER") this.#addLayer(record);
    else if (this.#section.name === "BLOCKS" && type === "BLOCK") this.#addBlock(record);
    else if (this.#section.name === "BLOCKS" && type === "ENDBLK") this.#into = null;
    else this.#addEntity(record);
  }

  #begin(record: DxfRecord): void {
    if (this.#section !== null) this.#report(record.line, unended(this.#section.name));
    const name = new Fields(record).text(2)?.toUpperCase() ?? "";
    this.#section = { name, line: record.line };
    this.#into = name === "ENTITIES" ? this.entities : null;
    this.#hasEntities ||= name === "ENTITIES";
    if (name === "HEADER") this.header = readHeader(record);
  }

  #addLayer(record: DxfRecord): void {
    const layer = readLayer(record);
    if (!this.layers.has(nameKey(layer.name))) this.layers.set(nameKey(layer.name), layer);
  }

  #addBlock(record: DxfRecord): void {
    const name = new Fields(record).text(2) ?? "";
    const entities: Growing[] = [];
    this.#into = entities;
    if (!this.blocks.has(nameKey(name))) this.blocks.set(nameKey(name), { name, record, entities });
  }

  #addEntity(record: DxfRecord): void {
    if (this.#into === null) return;
    if (!PARTS.has(record.type)) this.#into.push({ record, parts: [] });
    else if (record.type !== "SEQEND") this.#into.at(-1)?.parts.push(record);
  }

  #report(line: number | null, fault: Fault): void {
    this.problems.push(errorAt(this.#at(line), fault));
  }

  #at(line: number | null): { file: string; line: number | null; column: null } {
    return { file: this.#file, line, column: null };
  }
}

/** What is named .dxf and is something else. */
function foreignFormat(text: string): Fault | null {
  const start = text.slice(0, 200);
  if (text.trim() === "") return noDxf("");
  if (start.trimStart().startsWith("<")) return noDxf("a file in XML, such as SVG");
  const [binary, other] = [
    // oxlint-disable-next-line no-control-regex -- the mark of the binary form ends in one
    /Binary DXF\r?\n?\u001a/.test(start),
    // oxlint-disable-next-line no-control-regex -- no text has any of these
    /[\u0000-\u0008\u000e-\u001f]/.test(start),
  ];
  if (!binary && !other) return null;
  return {
    code: binary ? "dxf-binary" : "dxf-not-text",
    found: binary ? "a binary DXF" : excerpt(start),
    expected: "an ASCII DXF (R12 to 2018)",
    mend: "Save the drawing as ASCII DXF",
  };
}

function noDxf(found: string): Fault {
  return {
    code: "dxf-none",
    found,
    expected: "a DXF drawing in ASCII",
    mend: "Save the drawing as ASCII DXF, or name the right file",
  };
}

const AGAIN = "Copy or save the drawing again";

function unended(section: string): Fault {
  return {
    code: "dxf-section",
    found: `section ${excerpt(section)} without its ENDSEC`,
    expected: "ENDSEC at the end of every section",
    mend: `${AGAIN}: something of it is missing`,
  };
}

function stray(type: string): Fault {
  return {
    code: "dxf-section",
    found: excerpt(type),
    expected: "records inside of sections",
    mend: AGAIN,
  };
}

function noEntities(): Fault {
  return {
    code: "dxf-empty",
    found: "no section ENTITIES",
    expected: "the section that holds what is drawn",
    mend: `${AGAIN} as ASCII DXF`,
  };
}

function endless(): Fault {
  return {
    code: "dxf-truncated",
    found: "no EOF",
    expected: "EOF at the end; everything drawn is there",
    mend: AGAIN,
  };
}
