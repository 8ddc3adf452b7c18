import type { Fault } from "../../problem.ts";
import { excerpt } from "../fault.ts";

/**
 * The text of an ASCII DXF as records. It is a row of groups, each of two lines: a whole number that
 * says what follows, and a value. Group 0 begins a record, whose value is the record's type.
 */

export interface DxfRecord {
  readonly type: string;
  /** Of the file, where the type stands; the value of group i stands 2 i + 2 lines below. */
  readonly line: number;
  /** Of the groups after the type, with their values. */
  readonly codes: readonly number[];
  readonly values: readonly string[];
}

/** A fault and the line of the file where it lies. */
export interface LineFault {
  readonly line: number;
  readonly fault: Fault;
}

/** Where the value of a record's group stands. */
export function groupLine({ line }: DxfRecord, index: number): number {
  return line + 2 * index + 2;
}

/** Comments, which may stand anywhere. */
const COMMENT = 999;

/** Gives record by record, and ends at EOF, at the end of the text or at the first fault. */
export class DxfText {
  /** What stopped the reading; null when nothing did. */
  fault: LineFault | null = null;
  /** Lines read so far. */
  line = 0;
  readonly #text: string;
  readonly #lineEnd: string;
  #at = 0;

  constructor(text: string) {
    this.#text = text;
    this.#lineEnd = text.includes("\n") ? "\n" : "\r";
  }

  *records(): Generator<DxfRecord, void> {
    let open: { type: string; line: number; codes: number[]; values: string[] } | null = null;
    while (this.#hasMore()) {
      const written = this.#nextLine();
      const code = /^[+-]?\d{1,5}$/.test(written) ? Number(written) : null;
      if (code === null) return this.#stop(notACode(written));
      if (this.#at >= this.#text.length) return this.#stop(cutOff(code));
      const value = this.#nextLine();
      if (code === 0) {
        if (open !== null) yield open;
        open = { type: value.toUpperCase(), line: this.line, codes: [], values: [] };
        if (open.type === "EOF") break;
      } else if (open !== null) {
        open.codes.push(code);
        open.values.push(value);
      } else if (code !== COMMENT) return this.#stop(notACode(`${code} before any record`));
    }
    if (open !== null) yield open;
  }

  /** Blank lines after the last group are none. */
  #hasMore(): boolean {
    if (this.#at >= this.#text.length) return false;
    const rest = this.#text.length - this.#at;
    return rest > MOST_BLANK || this.#text.slice(this.#at).trim() !== "";
  }

  #nextLine(): string {
    const end = this.#text.indexOf(this.#lineEnd, this.#at);
    const stop = end < 0 ? this.#text.length : end;
    const line = this.#text.slice(this.#at, stop).trim();
    this.#at = stop + 1;
    this.line++;
    return line;
  }

  #stop(fault: Fault): void {
    this.fault = { line: this.line, fault };
  }
}

const MOST_BLANK = 100;

function notACode(found: string): Fault {
  return {
    code: "dxf-group",
    found: excerpt(found),
    expected: "a group code, the whole number that stands above every value",
    mend: "Save the drawing again as ASCII DXF",
  };
}

function cutOff(code: number): Fault {
  return {
    code: "dxf-truncated",
    found: `the end of the file after group code ${code}`,
    expected: "a value below every group code, and EOF at the end",
    mend: "Copy or save the drawing again: its end is missing",
  };
}
