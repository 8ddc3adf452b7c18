import { Amount, parseDecimal } from "../money.ts";
import { parseLength } from "../units.ts";
import { isDay } from "./day.ts";
import { eitherOf, mendName, spelling } from "../names.ts";

/** What a cell may hold: how it is read, and what is said when it can not be. */
export interface CellKind<T> {
  /** Code of the problem when it is something else. */
  readonly code: string;
  /** Completes "expected ...". */
  readonly expected: string;
  /** Gets a text that is not empty; null when it is no such thing. */
  readonly read: (text: string) => T | null;
  /** What to do about this text, an imperative without a full stop. */
  readonly mend: (text: string) => string;
  /** Why an empty cell is not passed over, where that is not plain. */
  readonly never?: string;
}

/** Longer is a slip of a unit, not a part: mm. */
const LONGEST_MM = 100_000;
const MOST_COUNTED = 1_000_000;

/** One line, single blanks. */
export const text: CellKind<string> = {
  code: "no-text",
  expected: "a text",
  read: (cell) => cell.replace(/\s+/g, " ").trim() || null,
  mend: () => "Write a plain text, in quotes if it holds a colon",
};

export const positive = numberKind("a number above 0", (value) => value > 0);
export const notNegative = numberKind("a number, 0 or more", (value) => value >= 0);
export const percent = numberKind("a percentage, 0 or more", (value) => value >= 0);
/** Of which something must remain. */
export const share = numberKind("a percentage, 0 or more and below 100", (value) => value < 100);

/** Decimal, exact: money and settings. */
export const amount: CellKind<Amount> = {
  code: "not-an-amount",
  expected: "an amount, 0 or more, such as 12.50",
  read: (cell) => (isPlain(cell) ? parseDecimal(cell) : null),
  mend: numberMend,
  never: "a missing amount is never taken for zero",
};

export const whole = wholeKind("a whole number, 1 or more", 1);
export const count = wholeKind("a whole number, 0 or more", 0);

/** mm, read with its unit. */
export const length: CellKind<number> = {
  code: "not-a-length",
  expected: "a length above 0 such as 3.2, 3.2 mm, 1.5 cm or 1/8 in",
  read: (cell) => {
    const mm = parseLength(cell);
    return mm !== null && mm > 0 && mm <= LONGEST_MM ? mm : null;
  },
  mend: (cell) => {
    if (parseLength(cell) !== null) return "Correct the length or its unit: it goes up to 100 m";
    return commaMend(cell) ?? "Write a number and its unit: mm, cm, m or in; without one it is mm";
  },
};

export const day: CellKind<string> = {
  code: "not-a-day",
  expected: "a day such as 2026-11-25",
  read: (cell) => (isDay(cell) ? cell : null),
  mend: () => "Write year, month and day of the calendar as 2026-11-25",
};

export const yesNo: CellKind<boolean> = {
  code: "not-yes-or-no",
  expected: "yes or no",
  read: (cell) => {
    const said = cell.toLowerCase();
    if (["yes", "y", "true", "1"].includes(said)) return true;
    return ["no", "n", "false", "0"].includes(said) ? false : null;
  },
  mend: () => "Write yes or no",
};

/** One of a few words, whatever its case. */
export function choice<const T extends string>(words: readonly T[]): CellKind<T> {
  const named = words.filter((word) => word !== "");
  return {
    code: "not-a-choice",
    expected: eitherOf(named, named.length),
    read: (cell) => words.find((word) => word === spelling(cell, words)) ?? null,
    mend: (cell) => mendName(cell, named, "choose one of these"),
  };
}

/** ISO metric thread by its size: `M5`. */
export const thread: CellKind<string> = {
  code: "not-a-thread",
  expected: "a metric thread such as M5",
  read: (cell) => (/^M\d+(\.\d+)?$/.test(cell) ? cell : null),
  mend: () => "Write the thread as M and its size, or leave the cell empty",
};

function numberKind(expected: string, fits: (value: number) => boolean): CellKind<number> {
  return {
    code: "not-a-number",
    expected,
    read: (cell) => {
      const value = Number(cell);
      return isPlain(cell) && Number.isFinite(value) && fits(value) ? value : null;
    },
    mend: numberMend,
  };
}

function wholeKind(expected: string, least: number): CellKind<number> {
  return {
    code: "not-a-whole-number",
    expected,
    read: (cell) => {
      const value = Number(cell);
      return /^\d+$/.test(cell) && value >= least && value <= MOST_COUNTED ? value : null;
    },
    mend: wholeMend,
  };
}

function wholeMend(cell: string): string {
  if (!isPlain(cell)) return commaMend(cell) ?? "Write the count in digits only";
  if (cell.includes(".")) return "Round it to a whole number";
  if (Number(cell) > MOST_COUNTED) return "Correct the count: it goes up to a million";
  return "Correct the count, or remove the row";
}

/** Digits and at most one point: no sign, no exponent, no grouping. */
function isPlain(cell: string): boolean {
  return /^\d+(\.\d+)?$/.test(cell);
}

function numberMend(cell: string): string {
  const comma = commaMend(cell);
  if (comma !== null) return comma;
  if (cell.includes("%")) return "Leave the percent sign out";
  if (/^[-\u2212]/.test(cell)) return "Write it without the minus sign, or correct it";
  if (/\d\s*[^\d\s.]+$|^[^\d\s.]+\s*\d/.test(cell))
    return "Write the number alone, without a unit or currency";
  if (/^\.\d+$/.test(cell)) return `Write 0${cell}`;
  if (isPlain(cell)) return "Correct the number";
  return "Write a plain number such as 12.50";
}

/** For `12,50` and `1,234.50`; null when there is no comma. */
function commaMend(cell: string): string | null {
  if (!cell.includes(",")) return null;
  if (!/^\d+,\d+([^\d.,].*)?$/.test(cell))
    return "Write a decimal point, and no marks between thousands";
  const point = cell.replace(",", ".");
  const thousands = /^\d+,\d{3}([^\d.,].*)?$/.test(cell);
  return thousands
    ? `Write ${cell.replace(",", "")} for thousands or ${point} with a decimal point`
    : `Write a decimal point: ${point}`;
}
