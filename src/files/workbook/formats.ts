import { parseLength, trimmed } from "../../units.ts";
import { visitXml } from "./xml.ts";

/** How numbers of a workbook are shown, as far as it changes what they say. */

export interface NumberFormat {
  readonly kind: "plain" | "day" | "fraction" | "percent";
  /** Unit of length that is shown behind a plain number, or an empty text. */
  readonly unit: string;
}

export const PLAIN: NumberFormat = { kind: "plain", unit: "" };
const DAY: NumberFormat = { kind: "day", unit: "" };
const FRACTION: NumberFormat = { kind: "fraction", unit: "" };
const PERCENT: NumberFormat = { kind: "percent", unit: "" };

/** By style of a cell (ECMA-376, part 1, 18.8.10 and 18.8.30). */
export function readFormats(xml: string | null): readonly NumberFormat[] {
  const codes = new Map<string, string>();
  const formats: NumberFormat[] = [];
  let inCells = false;
  visitXml(xml ?? "<none/>", {
    open: (tag, { numFmtId: id = "0", formatCode = "" }) => {
      if (tag === "numFmt") codes.set(id, formatCode);
      if (tag === "cellXfs") inCells = true;
      if (tag === "xf" && inCells)
        formats.push(codes.has(id) ? formatOf(codes.get(id) ?? "") : builtIn(Number(id)));
    },
    close: (tag) => {
      if (tag === "cellXfs") inCells = false;
    },
  });
  return formats;
}

/** What a format of the person's own makes of a number above zero: its first section does. */
export function formatOf(code: string): NumberFormat {
  const [section = ""] = /^(?:"[^"]*"|\\.|\[[^\]]*\]|[^;])*/.exec(code) ?? [];
  const bare = section.replace(LITERAL, "");
  const elapsed = /\[(?:h+|m+|s+)\]/i.test(section);
  if (elapsed || (!/general/i.test(bare) && /[dmyhs]/i.test(bare))) return DAY;
  if (/[#?0]\s*\/\s*[#?\d]/.test(bare)) return FRACTION;
  if (bare.includes("%")) return PERCENT;
  const literals = [...section.matchAll(LITERAL)].map(([, quoted, single]) => quoted ?? single);
  const unit = literals.join("").trim();
  return { kind: "plain", unit: parseLength(`1 ${unit}`) === null ? "" : unit };
}

/** Texts in quotes, single signs, colours and conditions, blanks as wide as a sign, fillings. */
const LITERAL = /"([^"]*)"|\\(.)|\[[^\]]*\]|[_*]./g;

/** Formats with a number and no code: ECMA-376, part 1, 18.8.30; days also of other languages. */
function builtIn(id: number): NumberFormat {
  const isDay = DAYS.some(([from, to]) => id >= from && id <= to);
  if (isDay) return DAY;
  if (id === 12 || id === 13) return FRACTION;
  return id === 9 || id === 10 ? PERCENT : PLAIN;
}

const DAYS = [
  [14, 22],
  [27, 36],
  [45, 47],
  [50, 58],
] as const;

/** A nanometre: below it is the dust of binary numbers, as in 0.30000000000000004. */
const DECIMALS = 6;

/**
 * A number as it is meant: in full, whatever number of decimals is shown, but a fraction, a
 * percentage or a length with its unit where the person sees one.
 */
export function numberText(value: number, { kind, unit }: NumberFormat): string {
  if (kind === "percent") return `${trimmed(value * 100, DECIMALS)}%`;
  if (kind === "fraction") return fractionText(value) ?? trimmed(value, DECIMALS);
  return `${trimmed(value, DECIMALS)} ${unit}`.trim();
}

/** As wide as fractions are shown. */
const MOST_PARTS = 999;

/** `3/8`, `1 1/2`, `2`; null when there is none with a small enough denominator. */
function fractionText(value: number): string | null {
  for (let parts = 1; parts <= MOST_PARTS; parts += 1) {
    const count = Math.round(value * parts);
    if (Math.abs(count / parts - value) < 1e-9) {
      const whole = Math.floor(count / parts);
      const rest = count % parts === 0 ? "" : `${count - whole * parts}/${parts}`;
      return whole === 0 && rest !== "" ? rest : `${whole} ${rest}`.trim();
    }
  }
  return null;
}

/** The day of a count of days (ECMA-376, part 1, 18.17.4.1): `2026-01-08`. */
export function dayText(days: number, from1904: boolean): string {
  const since1970 = Math.floor(days) - (from1904 ? DAYS_1904_TO_1970 : DAYS_1899_TO_1970);
  const date = new Date(since1970 * MS_PER_DAY);
  return Number.isNaN(date.getTime()) ? String(days) : date.toISOString().slice(0, 10);
}

const MS_PER_DAY = 24 * 60 * 60 * 1000;
/** 0 is 30 December 1899: 1900 counts as a leap year, so that it is right from March 1900 on. */
const DAYS_1899_TO_1970 = 25_569;
const DAYS_1904_TO_1970 = 24_107;
