import type { Point } from "../../geometry/types.ts";
import type { Fault } from "../../problem.ts";
import { excerpt } from "../fault.ts";
import { groupLine } from "./records.ts";
import type { DxfRecord, LineFault } from "./records.ts";

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i;

/** Reads the values of one record and collects what is wrong with them. */
export class Fields {
  readonly faults: LineFault[] = [];
  readonly #record: DxfRecord;

  constructor(record: DxfRecord) {
    this.#record = record;
  }

  /** As written, with `\U+00E9` as the character that it stands for. */
  text(code: number): string | null {
    const value = this.#record.values[this.#record.codes.indexOf(code)];
    return value === undefined ? null : decoded(value);
  }

  /** @param otherwise what a group that is not there means; null when it must be there. */
  number(code: number, otherwise: number | null = null): number {
    const index = this.#record.codes.indexOf(code);
    if (index >= 0) return this.numberAt(index);
    if (otherwise === null) this.report(this.#record.line, missingGroup(code));
    return otherwise ?? 0;
  }

  /** Groups `code` and `code + 10`. */
  point(code: number): Point {
    return { x: this.number(code), y: this.number(code + 10) };
  }

  /** Bits of a flag word. */
  flags(code: number): number {
    const value = this.number(code, 0);
    return Number.isSafeInteger(value) ? value : 0;
  }

  /** All values of a group that may be repeated. */
  all(code: number): number[] {
    const found: number[] = [];
    for (const [index, each] of this.#record.codes.entries())
      if (each === code) found.push(this.numberAt(index));
    return found;
  }

  /** Codes of all groups in order. */
  get codes(): readonly number[] {
    return this.#record.codes;
  }

  numberAt(index: number): number {
    const text = this.#record.values[index] ?? "";
    const value = NUMBER.test(text) ? Number(text) : Number.NaN;
    if (Number.isFinite(value)) return value;
    this.report(groupLine(this.#record, index), notANumber(this.#record.codes[index] ?? 0, text));
    return 0;
  }

  /** What is wrong with a value; its line when it has one, else the record's. */
  wrong(code: number, fault: Fault): void {
    const index = this.#record.codes.indexOf(code);
    this.report(index < 0 ? this.#record.line : groupLine(this.#record, index), fault);
  }

  /** A value that is read twice is wrong once. */
  report(line: number, fault: Fault): void {
    const isKnown = this.faults.some(
      (known) => known.line === line && known.fault.found === fault.found,
    );
    if (!isKnown) this.faults.push({ line, fault });
  }
}

function decoded(text: string): string {
  return text.replace(/\\U\+([0-9a-f]{4})/gi, (_, digits: string) =>
    String.fromCharCode(Number.parseInt(digits, 16)),
  );
}

/** Names without regard to case, as CAD programs compare them. */
export function nameKey(name: string): string {
  return name.normalize("NFC").toUpperCase();
}

const AGAIN = "Correct it in the drawing, or save the drawing again";

function notANumber(code: number, text: string): Fault {
  return {
    code: "dxf-number",
    found: `group ${code}: ${excerpt(text)}`,
    expected: "a number",
    mend: AGAIN,
  };
}

function missingGroup(code: number): Fault {
  return {
    code: "dxf-missing",
    found: `no group ${code}`,
    expected: `a value of group ${code}`,
    mend: AGAIN,
  };
}
