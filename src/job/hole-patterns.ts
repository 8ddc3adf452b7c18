import { eitherOf, mendName } from "../names.ts";
import { parseLength } from "../units.ts";
import type { CellKind } from "./cells.ts";
import { MOST } from "./limits.ts";
import type { HolePattern } from "./types.ts";

/**
 * The holes of a shape, as they are written in one cell, groups apart by semicolons:
 * `5.5 corners 12; 30 centre; 6 x 4 circle 60; 3 x 2 x 5 grid 40 30; 8 at 20 10 60 10`.
 * Every group begins with the diameter; counts stand before it. Lengths are mm unless said.
 */
export const holes: CellKind<readonly HolePattern[]> = {
  code: "not-holes",
  expected:
    "holes such as 5.5 corners 12; 30 centre; 6 x 4 circle 60; 3 x 2 x 5 grid 40 30; 8 at 20 10",
  read: (cell) => {
    const read = groupsOf(cell).map(readGroup);
    const patterns = read.flatMap((one) => (typeof one === "string" ? [] : [one]));
    return patterns.length === read.length && patterns.length > 0 ? patterns : null;
  },
  mend: (cell) => {
    const fault = groupsOf(cell)
      .map(readGroup)
      .find((one) => typeof one === "string");
    return fault ?? "Write a diameter and where the holes are, or leave the cell empty";
  },
};

const MOST_HOLES = 10_000;

function groupsOf(cell: string): readonly string[] {
  return cell
    .split(";")
    .map((group) => group.trim())
    .filter((group) => group !== "");
}

const WORDS = ["at", "corners", "centre", "circle", "grid"] as const;

/** How many counts stand before the diameter, and lengths after the word. */
const FORMS: Readonly<Record<(typeof WORDS)[number], readonly [counts: number, lengths: number]>> =
  {
    at: [0, 2],
    corners: [0, 1],
    centre: [0, 0],
    circle: [1, 1],
    grid: [2, 2],
  };

const EXAMPLES: Readonly<Record<(typeof WORDS)[number], string>> = {
  at: "8 at 20 10, the diameter, then from the left and from below",
  corners: "5.5 corners 12, the diameter, then how far from the sides",
  centre: "30 centre",
  circle: "6 x 4 circle 60, how many, their diameter, that of the circle through their middles",
  grid: "3 x 2 x 5 grid 40 30, columns, rows, diameter, then from hole to hole across and up",
};

/** A pattern, or what to do about a group that is none. */
function readGroup(group: string): HolePattern | string {
  const words = spaced(group).split(/\s+/);
  const at = words.findIndex((word) => /^[a-z]{3,}$|^at$/i.test(word));
  const word = words[at]?.toLowerCase() ?? "";
  const known = WORDS.find((one) => one === word);
  if (known === undefined)
    return word === ""
      ? `Say in "${group}" where the holes are: ${eitherOf(WORDS, WORDS.length)}`
      : mendName(word, WORDS, `write ${eitherOf(WORDS, WORDS.length)} after the diameter`);
  const [counts, lengths] = FORMS[known];
  const before = words.slice(0, at).filter((one) => one.toLowerCase() !== "x");
  const after = words.slice(at + 1).map(parseLength);
  const numbers = before.slice(0, -1).map((count) => (/^\d{1,4}$/.test(count) ? Number(count) : 0));
  const diameterMm = parseLength(before.at(-1) ?? "") ?? 0;
  const whole = after.flatMap((mm) => (mm !== null && mm <= MOST.sizeMm ? [mm] : []));
  const enough =
    known === "at" ? after.length >= 2 && after.length % 2 === 0 : after.length === lengths;
  const sound =
    diameterMm > 0 &&
    diameterMm <= MOST.sizeMm &&
    numbers.length === counts &&
    numbers.every((count) => count > 0) &&
    numbers.reduce((product, count) => product * count, 1) <= MOST_HOLES &&
    whole.length === after.length &&
    enough;
  return sound
    ? patternOf(known, diameterMm, numbers, whole)
    : `Write "${group}" as in ${EXAMPLES[known]}`;
}

/** `3x2x5` and `5.5 mm` as words that can be told apart. */
function spaced(group: string): string {
  return group
    .replaceAll("\u00d7", "x")
    .replace(/(\d)\s*x\s*(?=\d)/gi, "$1 x ")
    .replace(/(\d)\s+(mm|cm|in|inch)\b/gi, "$1$2");
}

function patternOf(
  kind: (typeof WORDS)[number],
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
