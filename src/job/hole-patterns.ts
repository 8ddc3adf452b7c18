import { eitherOf, mendName } from "../names.ts";
import { parseLength } from "../units.ts";
import type { CellKind } from "./cells.ts";
import { lengthWords } from "./length-words.ts";
import { MOST } from "./limits.ts";
import type { HolePattern } from "./types.ts";

/**
 * The holes of a shape, as they are written in one cell, groups apart by semicolons:
 * `5.5 corners 12; 30 centre; 6 x 4 circle 60; 3 x 2 x 5 grid 40 30; 8 at 20 10 60 10`.
 * Every group begins with the diameter; counts stand before it. Lengths are mm unless said.
 */
export const holes: CellKind<readonly HolePattern[]> = {
  code: "not-holes",
  expected: "diameters and where the holes are, such as 5.5 corners 12; 30 centre",
  read: (cell) => {
    const read = groupsOf(cell).map(readGroup);
    const patterns = read.flatMap((one) => (typeof one === "string" ? [] : [one]));
    const sound = patterns.length === read.length && patterns.length > 0;
    return sound && holeCount(patterns) <= MOST.holes ? patterns : null;
  },
  mend: (cell) => {
    const read = groupsOf(cell).map(readGroup);
    const fault = read.find((one) => typeof one === "string");
    if (fault !== undefined) return fault;
    return read.length === 0
      ? "Write a diameter and where the holes are, or leave the cell empty"
      : `Correct the counts, which go up to ${MOST.holes} holes in all: a digit has slipped`;
  },
  pointed: (cell) => {
    const groups = groupsOf(cell).map(pointedGroup);
    return groups.includes(null) ? null : groups.join("; ");
  },
};

/** `8 at 20,5 10,5` may be one hole or two: commas stand between coordinates as well. */
function pointedGroup(group: string): string | null {
  const decimal = group.replace(/(\d),(?=\d)/g, "$1.");
  if (decimal === group) return group;
  const [, before = "", after = ""] = /^(.*?[a-z]{2,})(.*)$/i.exec(decimal) ?? [];
  const parted = before + group.slice(before.length).replace(/(\d),(?=\d)/g, "$1 ");
  const isSound = typeof readGroup(decimal) !== "string";
  const isTwofold = after !== "" && parted !== decimal && typeof readGroup(parted) !== "string";
  return isSound && !isTwofold ? decimal : null;
}

function groupsOf(cell: string): readonly string[] {
  return cell
    .split(";")
    .map((group) => group.trim())
    .filter((group) => group !== "");
}

const WORDS = ["at", "corners", "centre", "circle", "grid"] as const;
type Word = (typeof WORDS)[number];

/** How many counts stand before the diameter, and lengths after the word. */
const FORMS: Readonly<Record<Word, readonly [counts: number, lengths: number]>> = {
  at: [0, 2],
  corners: [0, 1],
  centre: [0, 0],
  circle: [1, 1],
  grid: [2, 2],
};

const EXAMPLES: Readonly<Record<Word, string>> = {
  at: "8 at 20 10, the diameter, then from the left and from below",
  corners: "5.5 corners 12, the diameter of the four, then how far from the sides",
  centre: "30 centre, its diameter",
  circle: "6 x 4 circle 60, how many, their diameter, that of the circle through their middles",
  grid: "3 x 2 x 5 grid 40 30, columns, rows, diameter, then from hole to hole across and up",
};

/** A pattern, or what to do about a group that is none. */
function readGroup(group: string): HolePattern | string {
  const words = wordsOf(group);
  const at = words.findIndex((word) => /^[a-z]{3,}$|^at$/i.test(word));
  const word = words[at]?.toLowerCase().replace(/^center$/, "centre") ?? "";
  const known = WORDS.find((one) => one === word);
  if (known === undefined)
    return word === ""
      ? `Say in "${group}" where the holes are: ${eitherOf(WORDS, WORDS.length)}`
      : mendName(word, WORDS, `write ${eitherOf(WORDS, WORDS.length)} after the diameter`);
  const before = withoutTimes(words.slice(0, at));
  const diameterMm = sizeOf(before.at(-1) ?? "");
  const counts = before.slice(0, -1).map((count) => (/^\d{1,5}$/.test(count) ? Number(count) : 0));
  const lengths = withoutTimes(words.slice(at + 1)).map(sizeOf);
  const sizes = lengths.filter((mm) => mm !== null);
  const sound = sizes.length === lengths.length && isWhole(known, counts, sizes.length);
  if (sound && diameterMm !== null && diameterMm > 0)
    return patternOf(known, diameterMm, counts, sizes);
  return `Write "${group}" as in ${EXAMPLES[known]}${hint(group)}`;
}

function hint(group: string): string {
  if (group.includes(",")) return ", with blanks between the numbers and decimal points";
  return /\/\d+(?!\d|\s*(?:["\u2033\u201D]|in|mm|cm))/i.test(group)
    ? ", a fraction with its unit: 1/4 in"
    : "";
}

/** `3x2x5`, `5.5 mm`, `1 1/4 in` and `Ø5` as words that can be told apart. */
function wordsOf(group: string): readonly string[] {
  const parted = group
    .replaceAll("\u00d7", "x")
    .replace(/[\u00d8\u00f8\u2300]\s*/g, "")
    .replace(/((?:\d|mm|cm|in|inch|inches|["\u2033\u201D]))\s*x\s*(?=\d)/gi, "$1 x ");
  return lengthWords(parted);
}

function withoutTimes(words: readonly string[]): readonly string[] {
  return words.filter((word) => word !== "x");
}

function sizeOf(word: string): number | null {
  const mm = parseLength(word);
  return mm === null || mm > MOST.sizeMm ? null : mm;
}

/** Also with a count of four corners, one centre or as many places as follow, if it is that. */
function isWhole(word: Word, counts: readonly number[], lengths: number): boolean {
  const [countsWanted, lengthsWanted] = FORMS[word];
  const places = word === "corners" ? 4 : word === "centre" ? 1 : lengths / 2;
  const redundant = countsWanted === 0 && counts.length === 1 && counts[0] === places;
  const counted = counts.length === countsWanted && counts.every((count) => count > 0);
  const placed =
    word === "at" ? lengths > 0 && lengths % lengthsWanted === 0 : lengths === lengthsWanted;
  return placed && (counted || redundant);
}

function patternOf(
  kind: Word,
  diameterMm: number,
  [first = 0, second = 0]: readonly number[],
  lengths: readonly number[],
): HolePattern {
  const [a = 0, b = 0] = lengths;
  switch (kind) {
    case "at":
      return { kind, diameterMm, points: pairsOf(lengths) };
    case "corners":
      return { kind, diameterMm, insetMm: a };
    case "centre":
      return { kind, diameterMm };
    case "circle":
      return { kind, diameterMm, count: first, circleMm: a };
    case "grid":
      return { kind, diameterMm, columns: first, rows: second, pitchXMm: a, pitchYMm: b };
  }
}

function pairsOf(lengths: readonly number[]): { xMm: number; yMm: number }[] {
  return lengths.flatMap((xMm, index) =>
    index % 2 === 0 ? [{ xMm, yMm: lengths[index + 1] ?? 0 }] : [],
  );
}

/** How many holes these are. */
export function holeCount(patterns: readonly HolePattern[]): number {
  return patterns.reduce((sum, pattern) => sum + countOf(pattern), 0);
}

function countOf(pattern: HolePattern): number {
  switch (pattern.kind) {
    case "at":
      return pattern.points.length;
    case "corners":
      return 4;
    case "centre":
      return 1;
    case "circle":
      return pattern.count;
    case "grid":
      return pattern.columns * pattern.rows;
  }
}
