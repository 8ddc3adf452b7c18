import { MM_PER_INCH } from "../../units.ts";

/** Numbers and lengths as SVG writes them. */

/** CSS Values and Units, section 6.2: 1 in is 96 px, 72 pt or 6 pc. */
export const MM_PER_PX = MM_PER_INCH / 96;

const MM_PER_UNIT: Readonly<Record<string, number>> = {
  px: MM_PER_PX,
  mm: 1,
  cm: 10,
  q: 0.25,
  in: MM_PER_INCH,
  pt: MM_PER_INCH / 72,
  pc: MM_PER_INCH / 6,
};

/** What a person is told to write instead of another unit. */
export const LENGTH_FORMS = "a number, or a length in mm, cm, in, pt, pc, px or %";

const NUMBER = String.raw`[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?`;
const LENGTH = new RegExp(`^\\s*(${NUMBER})\\s*([a-z]*|%)\\s*$`, "i");
const NUMBERS = new RegExp(`^\\s*(?:${NUMBER}(?:\\s*,\\s*|\\s+|(?=[-+.])|\\s*$))*$`);

/** A length with a real unit, in mm; a bare number counts px. Null when it is neither. */
export function lengthMm(text: string): number | null {
  const [, number, unit = ""] = LENGTH.exec(text) ?? [];
  const factor = MM_PER_UNIT[unit === "" ? "px" : unit.toLowerCase()];
  return number === undefined || factor === undefined ? null : Number(number) * factor;
}

/**
 * A length inside the drawing, in user units, of which one is a px. Null when it is none.
 * @param whole what 100 % is, in user units.
 */
export function userLength(text: string, whole: number): number | null {
  const [, number, unit = ""] = LENGTH.exec(text) ?? [];
  if (number !== undefined && unit === "") return Number(number);
  if (number !== undefined && unit === "%") return (Number(number) / 100) * whole;
  const mm = lengthMm(text);
  return mm === null ? null : mm / MM_PER_PX;
}

/** Width and height in user units, to which percentages refer. */
export interface Frame {
  readonly width: number;
  readonly height: number;
}

const ACROSS: ReadonlySet<string> = new Set(["x", "cx", "x1", "x2", "rx", "width"]);
const UP: ReadonlySet<string> = new Set(["y", "cy", "y1", "y2", "ry", "height"]);

/** 100 % of an attribute (SVG 1.1 section 7.10): of the width, the height, or for `r` of both. */
export function wholeOf(attribute: string, { width, height }: Frame): number {
  if (ACROSS.has(attribute)) return width;
  return UP.has(attribute) ? height : Math.hypot(width, height) / Math.SQRT2;
}

/** Numbers apart by blanks, commas or their own signs; null when anything else is among them. */
export function numberList(text: string): number[] | null {
  if (!NUMBERS.test(text)) return null;
  return [...text.matchAll(new RegExp(NUMBER, "g"))].map(([number]) => Number(number));
}
