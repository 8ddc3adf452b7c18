/**
 * Signs for a terminal that shows ASCII only: every sign that the screen draws of its own has one of
 * the same width. Names from files stay as they are.
 */

type Environment = Readonly<Record<string, string | undefined>>;

/**
 * The locale as POSIX has it: LC_ALL, else LC_CTYPE, else LANG. Where none is set the terminal is
 * taken to show Unicode, as nearly all do.
 */
export function showsUnicode(environment: Environment): boolean {
  const said = ["LC_ALL", "LC_CTYPE", "LANG"].map((name) => environment[name] ?? "");
  const locale = said.find((value) => value !== "");
  return locale === undefined || /utf-?8/i.test(locale);
}

export function withPlainSigns(text: string): string {
  return text.replace(OWN_SIGNS, (sign) => SIGNS[sign] ?? brailleAsAscii(sign));
}

const SIGNS: Readonly<Record<string, string>> = {
  "─": "-",
  "━": "=",
  "│": "|",
  "┬": "+",
  "▸": ">",
  "▾": "v",
  "·": "-",
  "●": "*",
  "█": "#",
  "…": "~",
  "↑": "^",
  "↓": "v",
  "←": "<",
  "→": ">",
  "²": "2",
};

const OWN_SIGNS = new RegExp(`[${Object.keys(SIGNS).join("")}\u2800-\u28FF]`, "gu");

/** Bits of the upper two and the lower two rows of dots (Unicode, Braille Patterns). */
const UPPER = 0x01 | 0x02 | 0x08 | 0x10;
const LOWER = 0x04 | 0x20 | 0x40 | 0x80;
const FULL = 6;

function brailleAsAscii(sign: string): string {
  const bits = (sign.codePointAt(0) ?? 0) - 0x2800;
  const dots = bits.toString(2).replaceAll("0", "").length;
  if (dots >= FULL) return "#";
  if ((bits & UPPER) !== 0 && (bits & LOWER) !== 0) return dots > 2 ? "+" : ":";
  if (bits === 0) return " ";
  return (bits & UPPER) === 0 ? "." : "'";
}
