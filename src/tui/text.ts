import { printable } from "../problem.ts";

/**
 * Text measured in terminal cells. Names come from files, so every function makes control
 * characters visible first: a name can not steer the terminal.
 */

const graphemes = new Intl.Segmenter("en", { granularity: "grapheme" });

/** Zero-width on their own: marks, joiners, variation selectors. */
const INVISIBLE = /^[\p{Mn}\p{Me}\p{Cf}]+$/u;

/** Shown as a picture two cells wide: by itself or because U+FE0F asks for it. */
const PICTURE = /\p{Emoji_Presentation}|\p{Extended_Pictographic}\uFE0F|^[0-9#*]\uFE0F?\u20E3/u;

/** Wide and fullwidth blocks of UAX #11 (East Asian Width), first and last code point. */
const WIDE: readonly (readonly [number, number])[] = [
  [0x1100, 0x115f],
  [0x2e80, 0x303e],
  [0x3041, 0x33ff],
  [0x3400, 0x4dbf],
  [0x4e00, 0xa4cf],
  [0xa960, 0xa97f],
  [0xac00, 0xd7a3],
  [0xf900, 0xfaff],
  [0xfe30, 0xfe6f],
  [0xff00, 0xff60],
  [0xffe0, 0xffe6],
  [0x1b000, 0x1b2ff],
  [0x20000, 0x3fffd],
];

/** One cell for each code unit, nothing to join: nearly every text, and quick to tell. */
const SIMPLE =
  /^[ -~\u00A1-\u00AC\u00AE-\u02FF\u2010-\u2027\u2190-\u22FF\u2500-\u25CF\u2800-\u28FF]*$/;

/** Cells that a text takes; ambiguous characters (`Ø`, `²`) count as one, as most terminals do. */
export function displayWidth(text: string): number {
  if (SIMPLE.test(text)) return text.length;
  return clusters(text).reduce((sum, cluster) => sum + clusterWidth(cluster), 0);
}

/** At most `cells` wide; what is cut off ends in `…`, never inside a grapheme. */
export function cut(text: string, cells: number): string {
  if (displayWidth(text) <= cells) return printable(text);
  if (cells < 1) return "";
  if (SIMPLE.test(text)) return `${text.slice(0, cells - 1)}…`;
  const parts = clusters(text);
  let width = 1;
  const kept = parts.slice(
    0,
    parts.findIndex((part) => (width += clusterWidth(part)) > cells),
  );
  return `${kept.join("")}…`;
}

/** Exactly `cells` wide, text to the left. */
export function left(text: string, cells: number): string {
  const short = cut(text, cells);
  return short + " ".repeat(Math.max(0, cells - displayWidth(short)));
}

/** Exactly `cells` wide, text to the right, as numbers stand. */
export function right(text: string, cells: number): string {
  const short = cut(text, cells);
  return " ".repeat(Math.max(0, cells - displayWidth(short))) + short;
}

/** Lines of at most `cells`, broken at blanks where there are any; later lines are indented. */
export function wrap(text: string, cells: number, indent = 0): readonly string[] {
  const lines: string[] = [];
  const room = Math.max(8, cells);
  let line = "";
  for (const word of printable(text).split(" ")) {
    for (const piece of chunks(word, room - indent)) {
      const joined = line === "" ? piece : `${line} ${piece}`;
      if (line !== "" && displayWidth(joined) > room) {
        lines.push(line);
        line = " ".repeat(indent) + piece;
      } else line = joined;
    }
  }
  return [...lines, line];
}

/** A word in pieces that fit; nearly always the word itself. */
function chunks(word: string, cells: number): readonly string[] {
  if (displayWidth(word) <= cells) return [word];
  const pieces: string[] = [""];
  for (const cluster of clusters(word)) {
    const last = pieces.at(-1) ?? "";
    if (displayWidth(last + cluster) > cells) pieces.push(cluster);
    else pieces[pieces.length - 1] = last + cluster;
  }
  return pieces;
}

function clusters(text: string): readonly string[] {
  return Array.from(graphemes.segment(printable(text)), ({ segment }) => segment);
}

function clusterWidth(cluster: string): number {
  if (INVISIBLE.test(cluster)) return 0;
  if (PICTURE.test(cluster)) return 2;
  const code = cluster.codePointAt(0) ?? 0;
  return WIDE.some(([first, last]) => code >= first && code <= last) ? 2 : 1;
}
