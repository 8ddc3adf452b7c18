import { Amount, parseDecimal } from "../money.ts";
import { lengthText, MM_PER_INCH, parseLength, trimmed } from "../units.ts";
import { dayMeant, isDay } from "./day.ts";
import { MOST } from "./limits.ts";
import { isPlain, NO_CURRENCY, NO_PIECES, numeralMend } from "./numerals.ts";
import type { Repair } from "./numerals.ts";
import type { Spare } from "./types.ts";
import { eitherOf, mendName, sameText, spelling } from "../names.ts";

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
  /** Whether it is a number, so that its comma may be a decimal one. */
  readonly numeric?: true;
  /**
   * Of a cell that holds several numbers: the same text with points for its decimal commas, null
   * where a comma may as well part two of them.
   */
  readonly pointed?: (text: string) => string | null;
}

/** One line, single blanks. */
export const text: CellKind<string> = {
  code: "no-text",
  expected: "a text",
  read: (cell) => cell.replace(/\s+/g, " ").trim() || null,
  mend: () => "Write a plain text, in quotes if it holds a colon",
};

/** What a row or a thing is called. */
export const name: CellKind<string> = { ...text, expected: "a name" };

/** A name, or `none` where there is to be none: an empty cell may as well be forgotten. */
export const nameOrNone: CellKind<{ readonly name: string | null }> = {
  ...text,
  expected: "a name, or none",
  read: (cell) => {
    const read = text.read(cell);
    return read === null ? null : { name: sameText(read, "none") ? null : read };
  },
};

export const positive = positiveUpTo(MOST.counted);
/** Of which something must remain. */
export const share: CellKind<number> = {
  ...percentUpTo(100),
  expected: "a percentage, 0 or more and below 100",
  read: (cell) => (Number(cell) < 100 ? percentUpTo(100).read(cell) : null),
};

/** Half the time for twice the units is more than anybody learns; 100 is nothing learned. */
export const learningRate: CellKind<number> = {
  ...percentUpTo(100),
  expected: "a percentage from 50 to 100, such as 95",
  read: (cell) => (Number(cell) >= 50 ? percentUpTo(100).read(cell) : null),
};

/** Kept apart from g/cm3, of which no sheet has 20; foam has 30 kg/m3 or so (from memory). */
export const density: CellKind<number> = {
  ...positiveUpTo(MOST.densityKgM3),
  expected: "a density in kg/m3, 20 or more, such as 690",
  read: (cell) => (Number(cell) >= 20 ? positiveUpTo(MOST.densityKgM3).read(cell) : null),
};

/** These go up to a limit that only a slip goes beyond; it is named when one does. */
export function positiveUpTo(most: number): CellKind<number> {
  return numberKind("a number above 0", most, (value) => value > 0);
}

export function notNegativeUpTo(most: number): CellKind<number> {
  return numberKind("a number, 0 or more", most, () => true);
}

/** Either way: what is below 0 has a minus sign. */
export function signedUpTo(most: number): CellKind<number> {
  return {
    code: "not-a-number",
    expected: `a number from -${most} to ${most}`,
    read: (cell) => {
      const value = Number(cell);
      return isPlain(cell.replace(/^-/, "")) && Math.abs(value) <= most ? value : null;
    },
    mend: () => "Write a plain number such as 0.05 or -0.1",
    numeric: true,
  };
}

export function percentUpTo(most: number): CellKind<number> {
  return numberKind("a percentage, 0 or more", most, () => true);
}

/** Columns in mm hold numbers alone; a length with its unit is worked out for the person. */
export function mmUpTo(most: number): CellKind<number> {
  return inMm(positiveUpTo(most));
}

export function spacingUpTo(most: number): CellKind<number> {
  return inMm(notNegativeUpTo(most));
}

function inMm(kind: CellKind<number>): CellKind<number> {
  const mend = (cell: string): string => {
    const mm = isPlain(cell) ? null : parseLength(cell);
    const written = trimmed(mm ?? 0, 4);
    return mm === null || kind.read(written) === null
      ? kind.mend(cell)
      : `Write ${written}, the number of mm alone`;
  };
  return { ...kind, mend };
}

/** Decimal, exact: money and settings. */
export const amount = amountUpTo(MOST.money, "an amount, 0 or more, such as 12.50");

export function amountUpTo(most: number, expected: string): CellKind<Amount> {
  const read = (cell: string): Amount | null => {
    const value = isPlain(cell) ? parseDecimal(cell) : null;
    return value !== null && value.lte(most) ? value : null;
  };
  return {
    code: "not-an-amount",
    expected,
    read,
    mend: (cell) => numberMend(cell, most, (text) => read(text) !== null, NO_CURRENCY),
    never: "a missing amount is never taken for zero",
    numeric: true,
  };
}

export const whole = wholeUpTo(MOST.counted);
export const count = countUpTo(MOST.counted);

export function countUpTo(most: number): CellKind<number> {
  return wholeKind(0, most);
}

export function wholeUpTo(most: number): CellKind<number> {
  return wholeKind(1, most);
}

/** mm, read with its unit. */
export const length = lengthUpTo(MOST.sizeMm);

export function lengthUpTo(mostMm: number): CellKind<number> {
  const read = (cell: string): number | null => {
    const mm = parseLength(cell);
    return mm !== null && mm > 0 && mm <= mostMm ? mm : null;
  };
  return {
    code: "not-a-length",
    expected: "a length above 0 such as 3.2, 3.2 mm, 1.5 cm or 1/8 in",
    read,
    mend: (cell) => lengthMend(cell, read, mostMm),
    numeric: true,
  };
}

export const day: CellKind<string> = {
  code: "not-a-day",
  expected: "a day such as 2026-11-25",
  read: (cell) => (isDay(cell) ? cell : null),
  mend: (cell) => `Write ${dayMeant(cell) ?? "year, month and day of the calendar as 2026-11-25"}`,
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

/** `2`, copies for the whole order, or `5 %` of them. */
export const spare: CellKind<Spare> = {
  code: "not-spare-copies",
  expected: "a whole number of copies for the whole order such as 2, or a percentage such as 5 %",
  read: (cell) => {
    const share = /^(.*\S)\s*%$/.exec(cell)?.[1];
    const by = share === undefined ? "copies" : "percent";
    const number =
      share === undefined
        ? countUpTo(MOST.each).read(cell)
        : percentUpTo(MOST.sparePercent).read(share);
    return number === null ? null : { by, number };
  },
  mend: () => "Write how many more are made, or a percentage with its sign",
};

/** One of a few words, whatever its case. */
export function choice<const T extends string>(words: readonly T[]): CellKind<T> {
  const named = words.filter((word) => word !== "");
  return {
    code: "not-a-choice",
    expected: `${eitherOf(named, named.length)}${named.length < words.length ? ", or an empty cell" : ""}`,
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

/** @param fits asked of numbers from 0 to `most`. */
function numberKind(
  expected: string,
  most: number,
  fits: (value: number) => boolean,
): CellKind<number> {
  const read = (cell: string): number | null => {
    const value = Number(cell);
    return isPlain(cell) && value <= most && fits(value) ? value : null;
  };
  const mend = (cell: string): string =>
    numberMend(cell, most, (text) => read(text) !== null, null);
  return { code: "not-a-number", expected, read, mend, numeric: true };
}

function numberMend(
  cell: string,
  most: number,
  reads: (text: string) => boolean,
  surplus: Repair | null,
): string {
  if (isPlain(cell)) return Number(cell) > most ? upTo(most) : "Correct the number";
  const meant = numeralMend(cell, reads, surplus);
  if (meant !== null) return meant;
  return /^\d[\d.,]*\s*(?!e\d)[a-z\u00B5]+(?:\/[a-z]+)?\d?$/i.test(cell)
    ? "Write the number alone, in the unit that the name of the column says"
    : "Write a plain number such as 12.50";
}

function upTo(most: number): string {
  return `Correct the number, which goes up to ${most}: a digit or the point has slipped`;
}

function upToText(mm: number): string {
  return mm >= 1000 ? `${mm / 1000} m` : lengthText(mm);
}

function wholeKind(least: number, most: number): CellKind<number> {
  const read = (cell: string): number | null => {
    const value = Number(cell);
    return /^\d+$/.test(cell) && value >= least && value <= most ? value : null;
  };
  const mend = (cell: string): string => {
    if (isPlain(cell) && Number(cell) > most) return upTo(most);
    if (/^\d+$/.test(cell)) return "Correct the count, or delete what is not wanted";
    const meant = numeralMend(cell, (text) => read(text) !== null, NO_PIECES);
    if (meant !== null) return meant;
    if (/^\d+\.0+$/.test(cell)) return `Write ${Number(cell)}, without the decimals`;
    return isPlain(cell) ? "Round it to a whole number" : "Write the count in digits only";
  };
  const expected = `a whole number, ${least} or more`;
  return { code: "not-a-whole-number", expected, read, mend, numeric: true };
}

function lengthMend(cell: string, read: CellKind<number>["read"], mostMm: number): string {
  const mm = parseLength(cell);
  if (mm === 0) return "Correct the length";
  if (mm !== null) return `Correct the length or its unit: it goes up to ${upToText(mostMm)}`;
  const inches = parseLength(`${cell} in`);
  if (/^[\d\s/-]+$/.test(cell) && inches !== null)
    return `Write ${cell} in if inches are meant, or ${lengthText(inches / MM_PER_INCH)}`;
  const meant = numeralMend(cell, (text) => read(text) !== null, null);
  if (meant !== null) return meant;
  if (/\d\s*['\u2032\u2019]|\d\s*(ft|feet|foot)\b/i.test(cell))
    return "Write it in inches, 12 to the foot: mm, cm, m and in are read";
  if (/[1-9]\d*\s*[x\u00D7*]\s*\d/i.test(cell))
    return "Write one size in each cell: every size has a column of its own";
  return "Write a number and its unit: mm, cm, m or in; without one it is mm";
}
